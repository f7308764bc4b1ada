import type { Vec2 } from '../math/vec3.ts';
import { mitres } from './parallel-body.ts';

/** How far all sides of an outline can move, each in its own direction, and it stays what it is, mm. */
export interface RoomToMove {
  inMm: number;
  outMm: number;
}

/**
 * Sides that move in by t take every corner along its mitre, so that lengths of sides and heights of corners over sides
 * change evenly with t. A simple outline stays one until a side has no length left or a corner comes to lie on another
 * side: the first of those times, to either way, is found exactly (the events of a straight skeleton: Aichholzer,
 * Aurenhammer, Alberts & Gärtner, *J. Universal Computer Science* 1(12), 1995). Corners counter-clockwise.
 */
export function roomToMove(corners: readonly Vec2[]): RoomToMove {
  const n = corners.length;
  const ways = mitres(corners);
  let [inMm, outMm] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const happensAt = (t: number) => {
    if (t > 0) inMm = Math.min(inMm, t);
    else if (t < 0) outMm = Math.min(outMm, -t);
  };
  for (let k = 0; k < n; k++) {
    const next = (k + 1) % n;
    const [ax, ay] = corners[k];
    const length = Math.hypot(corners[next][0] - ax, corners[next][1] - ay);
    const [ex, ey] = [(corners[next][0] - ax) / length, (corners[next][1] - ay) / length];
    const [startsBy, endsBy] = [along(ways[k], ex, ey), along(ways[next], ex, ey)];
    happensAt(length / (endsBy - startsBy));
    for (let v = 0; v < n; v++) {
      if (v === k || v === next) continue;
      const [dx, dy] = [corners[v][0] - ax, corners[v][1] - ay];
      // Over the side, outward positive; the side itself moves by 1.
      const t = (dx * ey - dy * ex) / (along(ways[v], ey, -ex) - 1);
      if (!Number.isFinite(t)) continue;
      const at = along([dx, dy], ex, ey) - t * along(ways[v], ex, ey);
      if (at >= -t * startsBy - REACH && at <= length - t * endsBy + REACH) happensAt(t);
    }
  }
  return { inMm, outMm };
}

/** A corner this little beside the end of a side still counts as on it, mm: neighbours run into each other there. */
const REACH = 1e-9;

const along = ([x, y]: Vec2, ex: number, ey: number): number => x * ex + y * ey;
