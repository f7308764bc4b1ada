import { containersOf } from '../winding/outward.ts';
import type { Shell } from './shell-parts.ts';

/** How the shells of a figure lie to each other. */
export interface ShellRelations {
  /** Shells that are hollows: wound inward, within another; each with the shell it hollows. */
  hollows: { shell: number; of: number }[];
  /** Pairs of shells whose material overlaps: their surfaces cross, or one lies in the other's material. */
  overlaps: [number, number][];
}

/**
 * Tells hollows from bodies within bodies, and both from shells that cross.
 * @param shellOf shell number per triangle.
 * @param crossings pairs of triangles that cross.
 */
export function relateShells(
  shells: readonly Shell[],
  isFaulty: Uint8Array,
  shellOf: Uint32Array,
  crossings: readonly number[],
): ShellRelations {
  const relations: ShellRelations = { hollows: [], overlaps: [] };
  const known = new Set<number>();
  const overlap = (a: number, b: number) => {
    const key = Math.min(a, b) * shells.length + Math.max(a, b);
    if (a === b || known.has(key)) return;
    known.add(key);
    relations.overlaps.push([Math.min(a, b), Math.max(a, b)]);
  };
  for (let i = 0; i < crossings.length; i += 2) overlap(shellOf[crossings[i]], shellOf[crossings[i + 1]]);
  const signs = shells.map(({ volumeMm3 }) => Math.sign(volumeMm3));
  containersOf(shells, isFaulty).forEach((around, i) => {
    if (isFaulty[i] === 1 || around.length === 0) return;
    const nearest = around[around.length - 1];
    if (signs[i] < 0) relations.hollows.push({ shell: i, of: nearest });
    else if (around.reduce((sum, o) => sum + signs[o], 0) > 0) overlap(i, solidAround(around, signs));
  });
  return relations;
}

/** The innermost of nested shells whose material is there: a hollow takes away the solid before it. */
function solidAround(around: readonly number[], signs: readonly number[]): number {
  const solid: number[] = [];
  for (const shell of around) {
    if (signs[shell] > 0) solid.push(shell);
    else solid.pop();
  }
  return solid[solid.length - 1];
}
