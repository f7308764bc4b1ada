import { nearestOnLoops, type Vec2 } from './engine.ts';
import { type Bounds, boundsOf } from './view.ts';

/** The shortest line between two sets of closed outlines: mm is 0 where they cross. */
export interface Nearest {
  mm: number;
  from: Vec2;
  to: Vec2;
}

/** Whether closed outlines wind round (x, y): holes, which run the other way, count as outside, overlaps as inside. */
export function isInside(outlines: readonly Float64Array[], x: number, y: number): boolean {
  let winding = 0;
  for (const o of outlines) {
    for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) {
      if (
        o[i + 1] > y !== o[j + 1] > y &&
        x < ((o[j] - o[i]) * (y - o[i + 1])) / (o[j + 1] - o[i + 1]) + o[i]
      ) {
        winding += o[i + 1] > y ? 1 : -1;
      }
    }
  }
  return winding !== 0;
}

/** Whether a closed outline runs clockwise, as the holes of a face do. */
export function isClockwise(o: Float64Array): boolean {
  let twice = 0;
  for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) twice += o[j] * o[i + 1] - o[i] * o[j + 1];
  return twice < 0;
}

/**
 * The shortest line from the closed outline `a` to the closed outlines `bs`; null when there are none. Where they do
 * not cross, it has a corner of one of them at an end.
 */
export function nearestBetween(a: Float64Array, bs: readonly Float64Array[]): Nearest | null {
  const box = boundsOf([a]);
  const cross = crossingOf(a, box, bs);
  if (cross) return { mm: 0, from: cross, to: cross };
  let best: Nearest | null = null;
  for (let i = 0; i < a.length; i += 2) {
    const { distance, at } = nearestOnLoops(bs, a[i], a[i + 1], best?.mm);
    if (distance < (best?.mm ?? Infinity)) best = { mm: distance, from: [a[i], a[i + 1]], to: at };
  }
  for (const b of bs) {
    for (let i = 0; i < b.length; i += 2) {
      const x = b[i];
      const y = b[i + 1];
      const gapX = Math.max(0, box.min[0] - x, x - box.max[0]);
      const gapY = Math.max(0, box.min[1] - y, y - box.max[1]);
      if (best && gapX * gapX + gapY * gapY >= best.mm * best.mm) continue;
      const { distance, at } = nearestOnLoops([a], x, y, best?.mm);
      if (distance < (best?.mm ?? Infinity)) best = { mm: distance, from: at, to: [x, y] };
    }
  }
  return best;
}

/** A place where `a`, with `box` around it, crosses one of the outlines; null where there is none. */
function crossingOf(a: Float64Array, box: Bounds, bs: readonly Float64Array[]): Vec2 | null {
  for (const b of bs) {
    for (let i = 0, j = b.length - 2; i < b.length; j = i, i += 2) {
      if (Math.max(b[j], b[i]) < box.min[0] || Math.min(b[j], b[i]) > box.max[0]) continue;
      if (Math.max(b[j + 1], b[i + 1]) < box.min[1] || Math.min(b[j + 1], b[i + 1]) > box.max[1]) continue;
      for (let k = 0, l = a.length - 2; k < a.length; l = k, k += 2) {
        const t = crossingShare(a, l, k, b, j, i);
        if (t !== null) return [a[l] + t * (a[k] - a[l]), a[l + 1] + t * (a[k + 1] - a[l + 1])];
      }
    }
  }
  return null;
}

/** How far along the edge l–k of `a` the edge j–i of `b` crosses it, 0 to 1; null where it does not. */
function crossingShare(
  a: Float64Array,
  l: number,
  k: number,
  b: Float64Array,
  j: number,
  i: number,
): number | null {
  const ax = a[k] - a[l];
  const ay = a[k + 1] - a[l + 1];
  const bx = b[i] - b[j];
  const by = b[i + 1] - b[j + 1];
  const d = ax * by - ay * bx;
  if (d === 0) return null;
  const x = b[j] - a[l];
  const y = b[j + 1] - a[l + 1];
  const t = (x * by - y * bx) / d;
  const s = (x * ay - y * ax) / d;
  return t >= 0 && t <= 1 && s >= 0 && s <= 1 ? t : null;
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
