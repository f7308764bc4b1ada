import { onTriangle } from '../../../support/independent-gap.ts';
import { cross, dot, minus, type Point, plus, times } from './vectors.ts';

/** A triangle's corners, counter-clockwise from outside. */
export type Triangle = readonly [Point, Point, Point];

/** Unit normal, zero for a triangle without area. */
export function normalOf([a, b, c]: Triangle): Point {
  const n = cross(minus(b, a), minus(c, a));
  const length = Math.hypot(...n);
  return length > 0 ? times(n, 1 / length) : [0, 0, 0];
}

export const centreOf = ([a, b, c]: Triangle): Point => times(plus(plus(a, b), c), 1 / 3);

export const areaOf = (triangles: readonly Triangle[]): number =>
  triangles.reduce((sum, [a, b, c]) => sum + Math.hypot(...cross(minus(b, a), minus(c, a))) / 2, 0);

/** Volume of the cone from `about` over the triangles: what they enclose with a flat lid through `about`. */
export const volumeAbout = (triangles: readonly Triangle[], about: Point): number =>
  triangles.reduce(
    (sum, [a, b, c]) => sum + dot(minus(a, about), cross(minus(b, about), minus(c, about))) / 6,
    0,
  );

export interface Box {
  min: Point;
  max: Point;
}

export function boxOf(points: readonly Point[], margin = 0): Box {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const p of points) {
    for (let k = 0; k < 3; k++) {
      if (p[k] - margin < min[k]) min[k] = p[k] - margin;
      if (p[k] + margin > max[k]) max[k] = p[k] + margin;
    }
  }
  return { min, max };
}

export function boxesMeet(a: Box, b: Box): boolean {
  for (let k = 0; k < 3; k++) if (a.min[k] > b.max[k] || b.min[k] > a.max[k]) return false;
  return true;
}

export const near = (triangles: readonly Triangle[], box: Box): Triangle[] =>
  triangles.filter((t) => boxesMeet(boxOf(t), box));

/** How many triangles that follow one another are passed over together. */
const RUN = 16;

/** Triangles to be asked for distances, with their boxes and those of their runs: least and greatest coordinates, six numbers each. */
export interface Surface {
  triangles: readonly Triangle[];
  boxes: Float64Array;
  runs: Float64Array;
}

export function surfaceOf(triangles: readonly Triangle[]): Surface {
  const boxes = new Float64Array(triangles.length * 6);
  triangles.forEach((t, i) => {
    const { min, max } = boxOf(t);
    boxes.set([...min, ...max], i * 6);
  });
  const runs = new Float64Array(Math.ceil(triangles.length / RUN) * 6);
  for (let r = 0; r < runs.length / 6; r++) {
    const { min, max } = boxOf(triangles.slice(r * RUN, (r + 1) * RUN).flat());
    runs.set([...min, ...max], r * 6);
  }
  return { triangles, boxes, runs };
}

export interface Nearest {
  at: Point;
  mm: number;
  /** Number of the triangle it is on. */
  on: number;
}

/** The point of a surface nearest to p, no farther than `far`; null where none is. Triangle `guess` is tried first. */
export function nearestOn(surface: Surface, p: Point, far: number, guess?: number): Nearest | null {
  const { triangles, boxes, runs } = surface;
  let best: Nearest | null = guess === undefined ? null : nearestIn(surface, p, far, guess);
  let limit = best?.mm ?? far;
  for (let from = 0; from < triangles.length; from += RUN) {
    if (isFarther(p, runs, (from / RUN) * 6, limit)) continue;
    for (let i = from; i < Math.min(from + RUN, triangles.length); i++) {
      if (isFarther(p, boxes, i * 6, limit)) continue;
      best = nearestIn(surface, p, limit, i) ?? best;
      limit = best?.mm ?? far;
    }
  }
  return best;
}

function nearestIn({ triangles }: Surface, p: Point, limit: number, on: number): Nearest | null {
  const at = onTriangle(p, ...triangles[on]);
  const mm = Math.sqrt((p[0] - at[0]) ** 2 + (p[1] - at[1]) ** 2 + (p[2] - at[2]) ** 2);
  return mm <= limit ? { at, mm, on } : null;
}

function isFarther(p: Point, boxes: Float64Array, at: number, mm: number): boolean {
  const x = Math.max(boxes[at] - p[0], p[0] - boxes[at + 3], 0);
  const y = Math.max(boxes[at + 1] - p[1], p[1] - boxes[at + 4], 0);
  const z = Math.max(boxes[at + 2] - p[2], p[2] - boxes[at + 5], 0);
  return x * x + y * y + z * z > mm * mm;
}

/** `nearestOn` for one surface, asked once for each point that triangles share; where the last was near the next may be. */
export function nearestFrom(surface: Surface, far: number): (p: Point) => Nearest | null {
  const known = new Map<Point, Nearest | null>();
  let last: Nearest | null = null;
  return (p) => {
    let found = known.get(p);
    if (found === undefined) {
      found = nearestOn(surface, p, far, last?.on);
      known.set(p, found);
      last = found ?? last;
    }
    return found;
  };
}

/** How far along a unit direction a ray passes through a triangle out of the material; null where it misses. */
export function exitAt(triangle: Triangle, from: Point, along: Point): number | null {
  const [a, b, c] = triangle;
  const [u, v] = [minus(b, a), minus(c, a)];
  const n = cross(u, v);
  const steep = dot(n, along);
  if (steep <= 1e-9 * Math.hypot(...n)) return null;
  const t = dot(n, minus(a, from)) / steep;
  const p = minus(plus(from, times(along, t)), a);
  const square = dot(n, n);
  const [s, r] = [dot(cross(p, v), n) / square, dot(cross(u, p), n) / square];
  return s >= 0 && r >= 0 && s + r <= 1 ? t : null;
}
