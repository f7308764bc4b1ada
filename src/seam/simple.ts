import { type Loop, loopArea, windingAt } from '../math/polygon.ts';

/**
 * True when loops bound a plain region: no two edges cross deeper than `slop` (mm), and
 * every loop lies where its direction says, material outlines outside all material and
 * holes in material covered once. Only then may a cap be made from the loops alone.
 */
export function isSimpleRegion(loops: readonly Loop[], slop: number): boolean {
  return crossings(loops, slop).next().done === true && loopsNest(loops, slop);
}

/**
 * Loops, by their numbers, two edges of which cross deeper than `slop` (mm): one pair an edge crossing. Sweep over the
 * edges by their least x; only edges whose x ranges meet are compared.
 */
export function* crossings(loops: readonly Loop[], slop: number): Generator<[number, number]> {
  const { edges, loopOf } = sortedEdges(loops);
  const active: number[] = [];
  for (let i = 0; i < edges.length; i += 4) {
    let kept = 0;
    for (const j of active) {
      if (Math.max(edges[j], edges[j + 2]) < edges[i]) continue;
      active[kept++] = j;
      if (crossDeeper(edges, i, j, slop)) yield [loopOf[i / 4], loopOf[j / 4]];
    }
    active.length = kept;
    active.push(i);
  }
}

/** x0, y0, x1, y1 per edge with x0 ≤ x1, by rising x0; and the loop each is of. */
function sortedEdges(loops: readonly Loop[]): { edges: Float64Array; loopOf: Uint32Array } {
  const count = loops.reduce((n, { length }) => n + length / 2, 0);
  const ends = new Float64Array(count * 4);
  const loopAt = new Uint32Array(count);
  let used = 0;
  loops.forEach((loop, k) => {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const [from, to] = loop[j] <= loop[i] ? [j, i] : [i, j];
      ends[used * 4] = loop[from];
      ends[used * 4 + 1] = loop[from + 1];
      ends[used * 4 + 2] = loop[to];
      ends[used * 4 + 3] = loop[to + 1];
      loopAt[used++] = k;
    }
  });
  const order = Uint32Array.from(loopAt, (_, edge) => edge).sort((a, b) => ends[a * 4] - ends[b * 4]);
  const edges = new Float64Array(count * 4);
  for (let i = 0; i < count; i++) edges.set(ends.subarray(order[i] * 4, order[i] * 4 + 4), i * 4);
  return { edges, loopOf: order.map((edge) => loopAt[edge]) };
}

function crossDeeper(e: Float64Array, i: number, j: number, slop: number): boolean {
  if (Math.max(e[i + 1], e[i + 3]) < Math.min(e[j + 1], e[j + 3])) return false;
  if (Math.max(e[j + 1], e[j + 3]) < Math.min(e[i + 1], e[i + 3])) return false;
  return straddles(e, i, j, slop) && straddles(e, j, i, slop);
}

/** True when edge j's ends lie on both sides of edge i's line, each farther than `slop`. */
function straddles(e: Float64Array, i: number, j: number, slop: number): boolean {
  const dx = e[i + 2] - e[i];
  const dy = e[i + 3] - e[i + 1];
  const l = Math.hypot(dx, dy) || 1;
  const from = (dx * (e[j + 1] - e[i + 1]) - dy * (e[j] - e[i])) / l;
  const to = (dx * (e[j + 3] - e[i + 1]) - dy * (e[j + 2] - e[i])) / l;
  return (from > slop && to < -slop) || (from < -slop && to > slop);
}

/** True where material outlines lie outside all material, and holes in material once. Loops of next to no area are rounding, and bound nothing. */
export function loopsNest(loops: readonly Loop[], slop: number): boolean {
  return loops.every((loop, k) => {
    const area = loopArea(loop);
    if (Math.abs(area) < slop) return true;
    const others = loops.filter((_, other) => other !== k);
    // Loops that touch do so in a corner.
    return windingAt(others, (loop[0] + loop[2]) / 2, (loop[1] + loop[3]) / 2) === (area > 0 ? 0 : 1);
  });
}
