import { edgeBoxes, RUN } from './edge-boxes.ts';
import type { Loop } from './polygon.ts';
import type { Vec2 } from './vec3.ts';

/**
 * Distance from a point to the nearest edge of the loops, and that edge's nearest point. Looks no farther
 * than `within` (mm): where nothing is nearer, that is the distance, and the point itself is answered.
 */
export function nearestOnLoops(
  loops: readonly Loop[],
  x: number,
  y: number,
  within = Number.POSITIVE_INFINITY,
): { distance: number; at: Vec2 } {
  let best = within * within;
  let at: Vec2 = [x, y];
  for (const loop of loops) {
    const boxes = edgeBoxes(loop);
    for (let run = 0; run < boxes.length; run += 4) {
      if (boxSquared(boxes, run, x, y) >= best) continue;
      const from = (run / 4) * RUN * 2;
      const end = Math.min(loop.length, from + RUN * 2);
      for (let i = from; i < end; i += 2) {
        const j = i === 0 ? loop.length - 2 : i - 2;
        const dx = loop[i] - loop[j];
        const dy = loop[i + 1] - loop[j + 1];
        const along = (x - loop[j]) * dx + (y - loop[j + 1]) * dy;
        const t = Math.min(1, Math.max(0, along / (dx * dx + dy * dy || 1)));
        const px = loop[j] + t * dx;
        const py = loop[j + 1] + t * dy;
        const d = (px - x) ** 2 + (py - y) ** 2;
        if (d < best) {
          best = d;
          at = [px, py];
        }
      }
    }
  }
  return { distance: Math.sqrt(best), at };
}

function boxSquared(boxes: Float64Array, run: number, x: number, y: number): number {
  const dx = Math.max(boxes[run] - x, 0, x - boxes[run + 2]);
  const dy = Math.max(boxes[run + 1] - y, 0, y - boxes[run + 3]);
  return dx * dx + dy * dy;
}
