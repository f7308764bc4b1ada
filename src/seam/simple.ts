import { type Loop, loopArea, windingAt } from '../math/polygon.ts';

/**
 * True when loops bound a plain region: no two edges cross deeper than `slop` (mm), and
 * every loop lies where its direction says, material outlines outside all material and
 * holes in material covered once. Only then may a cap be made from the loops alone.
 */
export function isSimpleRegion(loops: readonly Loop[], slop: number): boolean {
  return !edgesCross(loops, slop) && loopsNest(loops, slop);
}

/** Sweep over the edges by their least x; only edges whose x ranges meet are compared. */
function edgesCross(loops: readonly Loop[], slop: number): boolean {
  const edges = sortedEdges(loops);
  const active: number[] = [];
  for (let i = 0; i < edges.length; i += 4) {
    let kept = 0;
    for (const j of active) {
      if (Math.max(edges[j], edges[j + 2]) < edges[i]) continue;
      active[kept++] = j;
      if (crossDeeper(edges, i, j, slop)) return true;
    }
    active.length = kept;
    active.push(i);
  }
  return false;
}

/** x0, y0, x1, y1 per edge with x0 ≤ x1, by rising x0. */
function sortedEdges(loops: readonly Loop[]): Float64Array {
  const list: [number, number, number, number][] = [];
  for (const loop of loops) {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      if (loop[j] <= loop[i]) list.push([loop[j], loop[j + 1], loop[i], loop[i + 1]]);
      else list.push([loop[i], loop[i + 1], loop[j], loop[j + 1]]);
    }
  }
  return Float64Array.from(list.sort((a, b) => a[0] - b[0]).flat());
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

/** Loops of next to no area are rounding, and bound nothing. */
function loopsNest(loops: readonly Loop[], slop: number): boolean {
  return loops.every((loop, k) => {
    const area = loopArea(loop);
    if (Math.abs(area) < slop) return true;
    const others = loops.filter((_, other) => other !== k);
    return windingAt(others, loop[0], loop[1]) === (area > 0 ? 0 : 1);
  });
}
