import type { Part } from '../../mesh/part/part.ts';
import { coordinate, vertexCount } from '../../mesh/part/vertices.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';

/** Shells that are looked at, at the most. */
const SHELLS = 16;
/** Share of a full turn that rounding may leave of none. */
const NONE = 0.1;

/**
 * True where no shell of a part's skin lies in what a solid angle tells of: one corner of each is asked. False as well
 * where there are too many shells to ask.
 * @param angleAt steradians seen from a point (mm): about 4π inside, about none outside.
 */
export function isNowhere(angleAt: (x: number, y: number, z: number) => number, part: Part): boolean {
  const parents = newShells(vertexCount(part));
  const skins = part.patches.filter(({ of }) => of.kind !== 'lid');
  for (const { triangles: t } of skins) {
    for (let i = 0; i < t.length; i += 3) {
      joinShells(parents, t[i], t[i + 1]);
      joinShells(parents, t[i], t[i + 2]);
    }
  }
  const roots = new Set<number>();
  for (const { triangles: t } of skins)
    for (let i = 0; i < t.length; i += 3) roots.add(rootOf(parents, t[i]));
  const at = (v: number, axis: number) => coordinate(part, v, axis);
  return (
    roots.size <= SHELLS &&
    [...roots].every((v) => Math.abs(angleAt(at(v, 0), at(v, 1), at(v, 2))) < NONE * 4 * Math.PI)
  );
}
