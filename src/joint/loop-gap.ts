import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { boxOfLoops, type Loop, type LoopBox, windingAt } from '../math/polygon.ts';
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
  const box = boxOfLoops([rim]);
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
  const box = boxOfLoops([rim]);
  return loops.every((loop) => windingAt([rim], loop[0], loop[1]) === 0 && !crosses(rim, box, loop));
}

const boxDistance = ([x0, y0, x1, y1]: LoopBox, x: number, y: number): number =>
  Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1));

/** True when an edge of the loop crosses one of the rim, whose box is given. */
function crosses(rim: Loop, [x0, y0, x1, y1]: LoopBox, loop: Loop): boolean {
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
