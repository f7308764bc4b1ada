import type { TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { generalisedWinding, type WindingTree } from '../winding/generalised-winding.ts';
import { RE_SKIN } from './tuning.ts';

/** Where the last edge asked about is crossed; read it before asking again. */
export const crossing = {
  /** Place along the edge, mm from its start. */
  along: 0,
  /** Area vector of the triangle crossed there, of no certain length; zero where a hole is closed. */
  nx: 0,
  ny: 0,
  nz: 0,
};

/** Most crossings of one edge that are told apart; more are finer than a cell can show. */
const MANY = 64;
const places = new Float64Array(MANY);
const triangles = new Int32Array(MANY);
const stack = new Int32Array(256);

/**
 * Finds where the edge of `length` mm from x, y, z along `axis`, one end inside and one outside, passes through the
 * skin: at the one crossed triangle, or at that one of several about which the inside really changes; where
 * none is crossed, where the winding number, taken as linear between `from` and `to` (its values at the ends), is half.
 */
export function findCrossing(
  winding: WindingTree,
  axis: number,
  at: Float64Array,
  length: number,
  from: number,
  to: number,
): void {
  const count = hitsAlong(winding.tree, axis, at, length);
  if (count === 0) {
    crossing.along = (length * (RE_SKIN.inside - from)) / (to - from);
    crossing.nx = 0;
    crossing.ny = 0;
    crossing.nz = 0;
    return;
  }
  const hit = count === 1 ? 0 : turningHit(winding, axis, at, count, from >= RE_SKIN.inside);
  crossing.along = places[hit];
  setNormal(winding.tree, triangles[hit]);
}

/** Of several hits, sorted, the first behind which the inside has changed; the last where no earlier one does it. */
function turningHit(
  winding: WindingTree,
  axis: number,
  at: Float64Array,
  count: number,
  startsInside: boolean,
): number {
  sortHits(count);
  for (let h = 0; h + 1 < count; h++) {
    const middle = (places[h] + places[h + 1]) / 2;
    const w = generalisedWinding(
      winding,
      at[0] + (axis === 0 ? middle : 0),
      at[1] + (axis === 1 ? middle : 0),
      at[2] + (axis === 2 ? middle : 0),
    );
    if (w >= RE_SKIN.inside !== startsInside) return h;
  }
  return count - 1;
}

function sortHits(count: number): void {
  for (let a = 1; a < count; a++) {
    for (let b = a; b > 0 && places[b - 1] > places[b]; b--) {
      const [place, triangle] = [places[b], triangles[b]];
      places[b] = places[b - 1];
      triangles[b] = triangles[b - 1];
      places[b - 1] = place;
      triangles[b - 1] = triangle;
    }
  }
}

/** Fills `places` and `triangles` with the triangles the edge meets, in no order; answers how many. */
function hitsAlong(tree: TriangleTree, axis: number, at: Float64Array, length: number): number {
  const { nodes, boxes, order } = tree;
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const [low, x, y] = [at[axis], at[u], at[v]];
  let count = 0;
  let top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const node = stack[--top];
    const box = node * 6;
    if (boxes[box + u] > x || boxes[box + 3 + u] < x || boxes[box + v] > y || boxes[box + 3 + v] < y)
      continue;
    if (boxes[box + axis] > low + length || boxes[box + 3 + axis] < low) continue;
    const child = nodes[node * 3 + 2];
    if (child > 0) {
      stack[top++] = child;
      stack[top++] = child + 1;
      continue;
    }
    const end = nodes[node * 3] + nodes[node * 3 + 1];
    for (let n = nodes[node * 3]; n < end && count < MANY; n++) {
      const along = placeAlong(tree, order[n], axis, u, v, x, y) - low;
      if (!(along >= 0 && along <= length)) continue;
      places[count] = along;
      triangles[count++] = order[n];
    }
  }
  return count;
}

/** Where the line at x, y of axes u, v meets a triangle, along `axis`; NaN where it passes by. Borders count. */
function placeAlong(
  { mesh: { positions: p, triangles: t } }: TriangleTree,
  triangle: number,
  axis: number,
  u: number,
  v: number,
  x: number,
  y: number,
): number {
  const a = t[triangle * 3] * 3;
  const b = t[triangle * 3 + 1] * 3;
  const c = t[triangle * 3 + 2] * 3;
  const wa = (p[b + u] - x) * (p[c + v] - y) - (p[c + u] - x) * (p[b + v] - y);
  const wb = (p[c + u] - x) * (p[a + v] - y) - (p[a + u] - x) * (p[c + v] - y);
  const wc = (p[a + u] - x) * (p[b + v] - y) - (p[b + u] - x) * (p[a + v] - y);
  const sum = wa + wb + wc;
  if (sum > 0 ? wa < 0 || wb < 0 || wc < 0 : wa > 0 || wb > 0 || wc > 0) return Number.NaN;
  // Seen edge on, the sum is 0 and the answer NaN.
  return (wa * p[a + axis] + wb * p[b + axis] + wc * p[c + axis]) / sum;
}

function setNormal({ mesh: { positions: p, triangles: t } }: TriangleTree, triangle: number): void {
  const a = t[triangle * 3] * 3;
  const b = t[triangle * 3 + 1] * 3;
  const c = t[triangle * 3 + 2] * 3;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  crossing.nx = uy * vz - uz * vy;
  crossing.ny = uz * vx - ux * vz;
  crossing.nz = ux * vy - uy * vx;
}
