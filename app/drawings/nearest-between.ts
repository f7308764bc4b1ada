import { nearestOnLoops, type Vec2 } from './engine.ts';
import { boundsOf } from './view.ts';

/** The shortest line between two sets of closed outlines: mm is 0 where they cross. */
export interface Nearest {
  mm: number;
  from: Vec2;
  to: Vec2;
}

/** Whether (x, y) lies inside closed outlines by the even-odd rule, so holes count as outside. */
export function isInside(outlines: readonly Float64Array[], x: number, y: number): boolean {
  let inside = false;
  for (const o of outlines) {
    for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) {
      if (
        o[i + 1] > y !== o[j + 1] > y &&
        x < ((o[j] - o[i]) * (y - o[i + 1])) / (o[j + 1] - o[i + 1]) + o[i]
      ) {
        inside = !inside;
      }
    }
  }
  return inside;
}

/** Whether a closed outline runs clockwise, as the holes of a face do. */
export function isClockwise(o: Float64Array): boolean {
  let twice = 0;
  for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) twice += o[j] * o[i + 1] - o[i] * o[j + 1];
  return twice < 0;
}

type Segment = readonly [number, number, number, number];

/** Nearest point of the segment to (x, y). */
export function nearestOnSegment(s: Segment, x: number, y: number): Vec2 {
  const [dx, dy] = [s[2] - s[0], s[3] - s[1]];
  const l = dx * dx + dy * dy;
  const t = l > 0 ? Math.min(1, Math.max(0, ((x - s[0]) * dx + (y - s[1]) * dy) / l)) : 0;
  return [s[0] + t * dx, s[1] + t * dy];
}

/** Where two segments cross, or null when they do not. */
function crossing(a: Segment, b: Segment): Vec2 | null {
  const [ax, ay, bx, by] = [a[2] - a[0], a[3] - a[1], b[2] - b[0], b[3] - b[1]];
  const d = ax * by - ay * bx;
  if (d === 0) return null;
  const t = ((b[0] - a[0]) * by - (b[1] - a[1]) * bx) / d;
  const s = ((b[0] - a[0]) * ay - (b[1] - a[1]) * ax) / d;
  return t >= 0 && t <= 1 && s >= 0 && s <= 1 ? [a[0] + t * ax, a[1] + t * ay] : null;
}

function between(a: Segment, b: Segment): Nearest {
  const cross = crossing(a, b);
  if (cross) return { mm: 0, from: cross, to: cross };
  let best: Nearest = { mm: Infinity, from: [0, 0], to: [0, 0] };
  const keep = (from: Vec2, to: Vec2) => {
    const mm = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (mm < best.mm) best = { mm, from, to };
  };
  keep([a[0], a[1]], nearestOnSegment(b, a[0], a[1]));
  keep([a[2], a[3]], nearestOnSegment(b, a[2], a[3]));
  keep(nearestOnSegment(a, b[0], b[1]), [b[0], b[1]]);
  keep(nearestOnSegment(a, b[2], b[3]), [b[2], b[3]]);
  return best;
}

/**
 * The shortest line from the closed outline `a` to the closed outlines `bs`; null when there are none.
 * Segments of `bs` farther from the box around `a` than the best so far are passed over; the corners of `a`
 * are looked at first, since they leave few that are not.
 */
export function nearestBetween(a: Float64Array, bs: readonly Float64Array[]): Nearest | null {
  const box = boundsOf([a]);
  let best = nearestOfCorners(a, bs);
  for (const b of bs) {
    for (let i = 0, j = b.length - 2; i < b.length; j = i, i += 2) {
      const sb: Segment = [b[j], b[j + 1], b[i], b[i + 1]];
      const gapX = Math.max(0, box.min[0] - Math.max(sb[0], sb[2]), Math.min(sb[0], sb[2]) - box.max[0]);
      const gapY = Math.max(0, box.min[1] - Math.max(sb[1], sb[3]), Math.min(sb[1], sb[3]) - box.max[1]);
      if (best && gapX * gapX + gapY * gapY >= best.mm * best.mm) continue;
      for (let k = 0, l = a.length - 2; k < a.length; l = k, k += 2) {
        const found = between([a[l], a[l + 1], a[k], a[k + 1]], sb);
        if (!best || found.mm < best.mm) best = found;
      }
    }
  }
  return best;
}

/** The shortest line from a corner of `a` to the outlines. */
function nearestOfCorners(a: Float64Array, bs: readonly Float64Array[]): Nearest | null {
  let best: Nearest | null = null;
  for (let i = 0; i < a.length; i += 2) {
    const { distance, at } = nearestOnLoops(bs, a[i], a[i + 1], best?.mm);
    if (distance < (best?.mm ?? Infinity)) best = { mm: distance, from: [a[i], a[i + 1]], to: at };
  }
  return best;
}

/** The wall in the face around a socket. `broken`: the socket reaches the skin, or lies off the face. */
export interface LiveWall extends Nearest {
  broken: boolean;
}

/** Wall between a socket's outline and the outlines of its face (holes included). */
export function measureLiveWall(socket: Float64Array, face: readonly Float64Array[]): LiveWall | null {
  const nearest = nearestBetween(socket, face);
  if (!nearest) return null;
  const broken =
    nearest.mm === 0 ||
    !isInside(face, socket[0], socket[1]) ||
    face.some((o) => o.length > 0 && isInside([socket], o[0], o[1]));
  return broken ? { ...nearest, mm: 0, broken } : { ...nearest, broken };
}
