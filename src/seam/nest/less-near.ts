import type { Part, Patch, PatchOf } from '../../mesh/part/part.ts';
import { workNear } from './work-near.ts';

/**
 * One part less another by `subtract`, on what of either comes near the other's skin; null where that does not come out,
 * and the whole parts are to be taken. Triangles that are far from the other keep their corners to the bit.
 */
export function lessNear(part: Part, by: Part, subtract: (part: Part, by: Part) => Part): Part | null {
  const numbers = [...part.patches, ...by.patches].map(({ of }) => (of.kind === 'lid' ? of.number : 0));
  const above = Math.max(0, ...numbers);
  const below = Math.min(0, ...numbers);
  const lidAbove = (number: number): PatchOf => ({ kind: 'lid', number: above + 1 + number });
  const lidBelow = (number: number): PatchOf => ({ kind: 'lid', number: below - 1 - number });
  // What is left of the other looks the other way.
  return workNear(part, by, lidAbove, (near) =>
    workNear(insideOut(by), part, lidBelow, (nearBy) => subtract(near, insideOut(nearBy))),
  );
}

const insideOut = (part: Part): Part => ({
  ...part,
  patches: part.patches.map(({ of, triangles }): Patch => ({ of, triangles: triangles.toReversed() })),
});
