import { orient2d, orient3d } from '../../math/predicates.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { blocksOf, blocksWhere } from '../../mesh/near/blocks.ts';
import { NOTHING_ADDED } from '../../mesh/part/vertices.ts';

/**
 * How often a closed mesh winds round a point: 1 inside a body wound outward, 0 outside; null where the point lies
 * on the mesh. Counts, with their sign, the triangles straight above the point. Exact: signs come from adaptive
 * predicates (Shewchuk, *Discrete & Computational Geometry* 18, 1997), and a point that lies straight below an edge
 * is judged by the half-open rule (Shimrat, *Communications of the ACM* 5(8), 1962), the same for both neighbours.
 */
export function windingNumber(
  { positions: p, triangles: t }: Mesh,
  x: number,
  y: number,
  z: number,
): number | null {
  const tree = blocksOf({ positions: p, added: NOTHING_ADDED }, t);
  const above = blocksWhere(
    tree,
    (boxes, at) =>
      boxes[at] <= x && boxes[at + 3] >= x && boxes[at + 1] <= y && boxes[at + 4] >= y && boxes[at + 5] >= z,
  );
  let winding = 0;
  for (const block of above) {
    for (let i = tree.starts[block]; i < tree.starts[block + 1]; i += 3) {
      const a = t[i] * 3;
      const b = t[i + 1] * 3;
      const c = t[i + 2] * 3;
      if (p[a + 2] < z && p[b + 2] < z && p[c + 2] < z) continue;
      const seen = turnsRound(p, a, b, x, y) + turnsRound(p, b, c, x, y) + turnsRound(p, c, a, x, y);
      if (touches(p, a, b, c, x, y, z)) return null;
      if (seen === 0) continue;
      const side = planeSide(p, a, b, c, x, y, z);
      if (side > 0 === seen > 0) winding += seen;
    }
  }
  return winding;
}

/** What the edge from a to b, seen from above, adds to the turns round (x, y): 1 upward on its right, −1 downward. */
function turnsRound(p: Float32Array, a: number, b: number, x: number, y: number): number {
  if (p[a + 1] <= y === p[b + 1] <= y) return 0;
  const left = orient2d(p[a], p[a + 1], p[b], p[b + 1], x, y);
  // This library's sign is negative for a counter-clockwise turn.
  if (p[a + 1] <= y) return left < 0 ? 1 : 0;
  return left > 0 ? -1 : 0;
}

/** True where the point lies on the triangle. */
function touches(p: Float32Array, a: number, b: number, c: number, x: number, y: number, z: number): boolean {
  const at = [x, y, z];
  for (let k = 0; k < 3; k++) {
    if (p[a + k] < at[k] && p[b + k] < at[k] && p[c + k] < at[k]) return false;
    if (p[a + k] > at[k] && p[b + k] > at[k] && p[c + k] > at[k]) return false;
  }
  const side = (i: number, j: number, u: number, v: number) =>
    orient2d(p[i + u], p[i + v], p[j + u], p[j + v], at[u], at[v]);
  // A point on a triangle is on its shadow along every axis; one beside it is off one of the three.
  for (const [u, v] of SHADOWS) {
    const [ab, bc, ca] = [side(a, b, u, v), side(b, c, u, v), side(c, a, u, v)];
    if (!((ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0))) return false;
  }
  return planeSide(p, a, b, c, x, y, z) === 0;
}

const SHADOWS = [
  [0, 1],
  [1, 2],
  [2, 0],
] as const;

/** Positive where the point lies below the plane of a triangle that faces up. */
const planeSide = (
  p: Float32Array,
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
  z: number,
): number => orient3d(p[a], p[a + 1], p[a + 2], p[b], p[b + 1], p[b + 2], p[c], p[c + 1], p[c + 2], x, y, z);
