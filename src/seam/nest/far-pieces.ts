import { cross, type Vec3 } from '../../math/vec3.ts';
import type { Part, PatchOf } from '../../mesh/part/part.ts';
import { allPositions, coordinate } from '../../mesh/part/vertices.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';
import { rootOf } from '../../mesh/topology/shells.ts';
import { isPlainBorder } from '../collar.ts';

/** What is taken off has at least so many triangles: less spares little. */
const LEAST = 256;
/** Pieces that are taken off at the most. */
export const MOST_PIECES = 4;

/** A piece of skin that is far from another part, and the cone that stands for it. */
export interface FarPiece {
  lid: PatchOf;
  /** Edges (two ids each) along which it was taken off, as the triangles that are left run. */
  border: Uint32Array;
  tip: Vec3;
  /** Which of the shells of all far triangles it is. */
  root: number;
}

/** The largest pieces that can be closed with a cone. */
export function farPieces(
  part: Part,
  isNear: readonly Uint8Array[],
  hasNear: Uint8Array,
  parents: Uint32Array,
  lidOf: (number: number) => PatchOf,
): FarPiece[] {
  const found = new Map<number, { count: number; edges: number[] }>();
  part.patches.forEach(({ triangles: t }, i) => {
    for (let k = 0, at = 0; at < t.length; k++, at += 3) {
      if (isNear[i][k] === 1) continue;
      const root = rootOf(parents, t[at]);
      const piece = found.get(root) ?? { count: 0, edges: [] };
      found.set(root, piece);
      piece.count++;
      // Only between vertices that near triangles have as well can its border run.
      for (let c = 0; c < 3; c++) {
        const a = t[at + c];
        const b = t[at + ((c + 1) % 3)];
        if (hasNear[a] === 1 && hasNear[b] === 1) piece.edges.push(a, b);
      }
    }
  });
  const borders = [...found].map(([root, { count, edges }]) => ({ root, count, border: unpaired(edges) }));
  return borders
    .filter(({ count, border }) => count >= LEAST && border.length > 0 && isPlainBorder(border))
    .sort((a, b) => b.count - a.count)
    .slice(0, MOST_PIECES)
    .flatMap(({ root, border }, k) => {
      const tip = tipOf(part, border, root, hasNear, parents);
      return tip ? [{ lid: lidOf(k + 1), border, tip, root }] : [];
    });
}

/** Edges that are walked one way alone, turned round. */
function unpaired(edges: readonly number[]): Uint32Array {
  const pairs = new PairTable(edges.length / 2);
  for (let i = 0; i < edges.length; i += 2) pairs.number(edges[i], edges[i + 1]);
  const open: number[] = [];
  for (let i = 0; i < edges.length; i += 2)
    if (pairs.find(edges[i + 1], edges[i]) < 0) open.push(edges[i + 1], edges[i]);
  return Uint32Array.from(open);
}

/** The vertex of a piece, not on its border, that stands out farthest from that as a whole; null where it has none. */
function tipOf(
  part: Part,
  border: Uint32Array,
  root: number,
  hasNear: Uint8Array,
  parents: Uint32Array,
): Vec3 | null {
  const place = (v: number): Vec3 => [coordinate(part, v, 0), coordinate(part, v, 1), coordinate(part, v, 2)];
  let [nx, ny, nz] = [0, 0, 0];
  let [mx, my, mz] = [0, 0, 0];
  for (let i = 0; i < border.length; i += 2) {
    const from = place(border[i]);
    const [x, y, z] = cross(from, place(border[i + 1]));
    nx += x;
    ny += y;
    nz += z;
    mx += (from[0] * 2) / border.length;
    my += (from[1] * 2) / border.length;
    mz += (from[2] * 2) / border.length;
  }
  const p = allPositions(part);
  let tip = -1;
  let farthest = -1;
  for (let v = 0; v < hasNear.length; v++) {
    if (hasNear[v] === 1 || rootOf(parents, v) !== root) continue;
    const height = Math.abs(nx * (p[v * 3] - mx) + ny * (p[v * 3 + 1] - my) + nz * (p[v * 3 + 2] - mz));
    if (height <= farthest) continue;
    farthest = height;
    tip = v;
  }
  return tip < 0 ? null : place(tip);
}
