import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { type Loop, windingAt } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';

/** The nearest pair of points between a rim and a face's outline, mm. */
export interface LoopGap {
  mm: number;
  from: Vec2;
  to: Vec2;
}

/** Nearest points of a rim and the face's outline: checked from the corners of each, as the least is at one. */
export function loopGap(rim: Loop, loops: readonly Loop[]): LoopGap {
  let best: LoopGap = { mm: Number.POSITIVE_INFINITY, from: [0, 0], to: [0, 0] };
  for (let i = 0; i < rim.length; i += 2) {
    const near = nearestOnLoops(loops, rim[i], rim[i + 1], best.mm);
    if (near.distance < best.mm) best = { mm: near.distance, from: [rim[i], rim[i + 1]], to: near.at };
  }
  const box = boxOf(rim);
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) {
      if (boxDistance(box, loop[i], loop[i + 1]) >= best.mm) continue;
      const near = nearestOnLoops([rim], loop[i], loop[i + 1], best.mm);
      if (near.distance < best.mm) best = { mm: near.distance, from: near.at, to: [loop[i], loop[i + 1]] };
    }
  }
  return best;
}

/** True when all of a rim lies in material and no outline comes within it. */
export function liesWithin(rim: Loop, loops: readonly Loop[]): boolean {
  if (windingAt(loops, rim[0], rim[1]) !== 1) return false;
  const box = boxOf(rim);
  return loops.every((loop) => windingAt([rim], loop[0], loop[1]) === 0 && !crosses(rim, box, loop));
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(loop: Loop): Box {
  let [x0, y0, x1, y1] = [loop[0], loop[1], loop[0], loop[1]];
  for (let i = 2; i < loop.length; i += 2) {
    x0 = Math.min(x0, loop[i]);
    x1 = Math.max(x1, loop[i]);
    y0 = Math.min(y0, loop[i + 1]);
    y1 = Math.max(y1, loop[i + 1]);
  }
  return [x0, y0, x1, y1];
}

const boxDistance = ([x0, y0, x1, y1]: Box, x: number, y: number): number =>
  Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1));

/** True when an edge of the loop crosses one of the rim, whose box is given. */
function crosses(rim: Loop, [x0, y0, x1, y1]: Box, loop: Loop): boolean {
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    if (Math.max(loop[i], loop[j]) < x0 || Math.min(loop[i], loop[j]) > x1) continue;
    if (Math.max(loop[i + 1], loop[j + 1]) < y0 || Math.min(loop[i + 1], loop[j + 1]) > y1) continue;
    for (let k = 0, l = rim.length - 2; k < rim.length; l = k, k += 2) {
      if (parts(loop, j, i, rim, l, k) && parts(rim, l, k, loop, j, i)) return true;
    }
  }
  return false;
}

/** True when the line through a's points i and j has b's points k and l on either side. */
function parts(a: Loop, i: number, j: number, b: Loop, k: number, l: number): boolean {
  const dx = a[j] - a[i];
  const dy = a[j + 1] - a[i + 1];
  const from = dx * (b[k + 1] - a[i + 1]) - dy * (b[k] - a[i]);
  const to = dx * (b[l + 1] - a[i + 1]) - dy * (b[l] - a[i]);
  return from > 0 !== to > 0;
}
