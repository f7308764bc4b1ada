import type { Vec2, Vec3 } from '../math/vec3.ts';
import type { SheetSpec } from './seam-schema.ts';

/**
 * Points nearer together than this, mm, are one place of a line; runs that come no closer to each other are apart. Far
 * below any wall, and far above the rounding of a figure's corners.
 */
export const LINE_APART_MM = 0.05;

/** How far a smooth line's straight pieces may be from the curve, mm. */
const CHORD_MM = 0.004;
const LEAST_PIECES = 4;
const MOST_PIECES = 64;

/** A sheet's line as a chain of points in a plane. */
export interface LineChain {
  points: Vec2[];
  /** Per straight piece, 1 where it stands for a bit of a curve, on which no joint can stand. */
  isBent: Uint8Array;
}

/** The chain of a sheet's line; null where two flats of it overlap, or one reaches beyond its ends. */
export function lineChain(
  { line, runs, flats = [] }: SheetSpec,
  project: (p: Vec3) => Vec2,
): LineChain | null {
  const corners = line.map(project);
  // Through two points in one place goes no curve: what is wrong with the line is told of its points.
  if (runs === 'straight' || isDoubled(corners))
    return { points: corners, isBent: new Uint8Array(corners.length - 1) };
  const points = smoothChain(corners);
  const whole = { points, isBent: new Uint8Array(points.length - 1).fill(points.length > 2 ? 1 : 0) };
  return withFlats(
    whole,
    flats.map(({ at, widthMm }) => ({ at: project(at), widthMm })),
  );
}

/** A chain made straight around places: each the chord of so much of it. */
function withFlats(
  { points, isBent }: LineChain,
  flats: readonly { at: Vec2; widthMm: number }[],
): LineChain | null {
  const run = [0];
  for (let i = 1; i < points.length; i++) run.push(run[i - 1] + distance(points[i - 1], points[i]));
  const spans = flats
    .map(({ at, widthMm }) => {
      const middle = runAt(points, run, at);
      const half = halfRun(points, run, middle, widthMm);
      return { from: middle - half, to: middle + half };
    })
    .sort((a, b) => a.from - b.from);
  const isApart = spans.every(
    ({ from, to }, i) => from >= (spans[i - 1]?.to ?? 0) && to <= run[run.length - 1],
  );
  if (!isApart) return null;
  const made: Vec2[] = [];
  const bent: number[] = [];
  /** The pieces up to a place along the chain, from the last one on. */
  const bendTo = (from: number, to: number) => {
    points.forEach((p, i) => {
      if (run[i] > from + LINE_APART_MM / 10 && run[i] < to - LINE_APART_MM / 10) {
        made.push(p);
        bent.push(isBent[i - 1]);
      }
    });
  };
  made.push(points[0]);
  let at = 0;
  for (const { from, to } of spans) {
    bendTo(at, from);
    if (from > at + LINE_APART_MM / 10) {
      made.push(placeAt(points, run, from));
      bent.push(1);
    }
    made.push(placeAt(points, run, to));
    bent.push(0);
    at = to;
  }
  bendTo(at, run[run.length - 1]);
  if (run[run.length - 1] > at + LINE_APART_MM / 10) {
    made.push(points[points.length - 1]);
    bent.push(isBent[isBent.length - 1]);
  }
  return { points: made, isBent: Uint8Array.from(bent) };
}

/** How far to go along a chain from a place, both ways, for the ends to be so far apart: a bend takes a little more than half of it. */
function halfRun(points: readonly Vec2[], run: readonly number[], middle: number, widthMm: number): number {
  let half = widthMm / 2;
  for (let turn = 0; turn < 6; turn++) {
    if (middle - half < 0 || middle + half > run[run.length - 1]) break;
    half *= widthMm / distance(placeAt(points, run, middle - half), placeAt(points, run, middle + half));
  }
  return half;
}

/** The piece of a chain, by the number of its first point, that a point is nearest to. */
export function nearestPiece(points: readonly Vec2[], p: Vec2): number {
  const far = points.slice(1).map((b, i) => fromSegment(p, points[i], b));
  return far.indexOf(Math.min(...far));
}

/** How far along a chain the place nearest to a point is, mm. */
function runAt(points: readonly Vec2[], run: readonly number[], p: Vec2): number {
  const i = nearestPiece(points, p);
  const [a, b] = [points[i], points[i + 1]];
  const length = run[i + 1] - run[i];
  const along = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length;
  return run[i] + Math.min(length, Math.max(0, along));
}

/** The place so far along a chain. */
function placeAt(points: readonly Vec2[], run: readonly number[], at: number): Vec2 {
  const i = Math.max(
    1,
    run.findIndex((far) => far >= at),
  );
  return between(points[i - 1], points[i], (at - run[i - 1]) / (run[i] - run[i - 1]));
}

const between = (a: Vec2, b: Vec2, t: number): Vec2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/**
 * A smooth line as a chain: the centripetal Catmull–Rom curve through its points, which neither loops nor turns back
 * between two of them (Yuksel, Schaefer and Keyser, *Parameterization and applications of Catmull–Rom curves*,
 * Computer-Aided Design 43(7), 2011). Its ends go on along the curve.
 */
export function smoothChain(points: readonly Vec2[]): Vec2[] {
  if (points.length < 3) return [...points];
  const last = points.length - 1;
  // Beyond an end the curve bends on as it does between the three last points.
  const padded = [
    bentOn(points[0], points[1], points[2]),
    ...points,
    bentOn(points[last], points[last - 1], points[last - 2]),
  ];
  const chain: Vec2[] = [points[0]];
  for (let i = 0; i < last; i++) {
    const [a, b, c, d] = padded.slice(i, i + 4);
    const count = piecesFor(a, b, c, d);
    for (let k = 1; k < count; k++) chain.push(curveAt(a, b, c, d, k / count));
    chain.push(c);
  }
  return chain;
}

/** The place from which a curve through three points, the first of them its end, would come with the same bend. */
function bentOn(end: Vec2, next: Vec2, third: Vec2): Vec2 {
  // The step before the end is the first one, turned by as much as the second is turned from the first.
  const [ax, ay] = [next[0] - end[0], next[1] - end[1]];
  const [bx, by] = [third[0] - next[0], third[1] - next[1]];
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  const [cos, sin] = [Math.cos(-turn), Math.sin(-turn)];
  return [end[0] - (cos * ax - sin * ay), end[1] - (sin * ax + cos * ay)];
}

/** How many straight pieces keep within the chord: the error falls with the square of their number. */
function piecesFor(a: Vec2, b: Vec2, c: Vec2, d: Vec2): number {
  let worst = 0;
  for (const t of [0.25, 0.5, 0.75]) {
    const [x, y] = curveAt(a, b, c, d, t);
    const [dx, dy] = [c[0] - b[0], c[1] - b[1]];
    worst = Math.max(worst, Math.abs((x - b[0]) * dy - (y - b[1]) * dx) / Math.hypot(dx, dy));
  }
  const count = Math.ceil(Math.sqrt((1.5 * worst) / CHORD_MM));
  return worst < CHORD_MM / 4 ? 1 : Math.min(MOST_PIECES, Math.max(LEAST_PIECES, count));
}

/** The curve between b and c at t from 0 to 1, by Barry and Goldman's pyramid over knots that grow with the root of distance. */
function curveAt(a: Vec2, b: Vec2, c: Vec2, d: Vec2, t: number): Vec2 {
  const step = (p: Vec2, q: Vec2) => Math.sqrt(Math.hypot(q[0] - p[0], q[1] - p[1]));
  const t1 = step(a, b);
  const t2 = t1 + step(b, c);
  const t3 = t2 + step(c, d);
  const at = t1 + t * (t2 - t1);
  const mix = (p: Vec2, q: Vec2, from: number, to: number): Vec2 => {
    const s = (at - from) / (to - from);
    return [p[0] + (q[0] - p[0]) * s, p[1] + (q[1] - p[1]) * s];
  };
  const ab = mix(a, b, 0, t1);
  const bc = mix(b, c, t1, t2);
  const cd = mix(c, d, t2, t3);
  return mix(mix(ab, bc, 0, t2), mix(bc, cd, t1, t3), t1, t2);
}

/** What is wrong with a chain: where two of its points are one, or where it comes back to itself; null where nothing is. */
export function chainFault(chain: readonly Vec2[]): { is: 'doubled' | 'crosses'; at: Vec2 } | null {
  const doubled = chain.find((p, i) => isOnePlace(chain[i - 1], p));
  if (doubled) return { is: 'doubled', at: doubled };
  for (let i = 0; i + 1 < chain.length; i++) {
    for (let j = i + 2; j + 1 < chain.length; j++) {
      // Pieces of one bend lie close together where they are short.
      const along = distance(chain[i + 1], chain[j]);
      if (segmentsApart(chain[i], chain[i + 1], chain[j], chain[j + 1]) < Math.min(LINE_APART_MM, along / 4))
        return { is: 'crosses', at: chain[j] };
    }
    if (i + 2 < chain.length && turnsBack(chain[i], chain[i + 1], chain[i + 2]))
      return { is: 'crosses', at: chain[i + 1] };
  }
  return null;
}

const isDoubled = (chain: readonly Vec2[]): boolean => chain.some((p, i) => isOnePlace(chain[i - 1], p));

const isOnePlace = (a: Vec2 | undefined, b: Vec2): boolean =>
  a !== undefined && distance(a, b) < LINE_APART_MM / 100;

const distance = (a: Vec2, b: Vec2): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Cosine of the sharpest corner: about 3°. */
const SHARPEST = -0.9986;

function turnsBack(a: Vec2, b: Vec2, c: Vec2): boolean {
  const dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
  return dot < SHARPEST * distance(a, b) * distance(b, c);
}

/** Least distance between two segments, mm; 0 where they cross. */
function segmentsApart(a: Vec2, b: Vec2, c: Vec2, d: Vec2): number {
  const side = (p: Vec2, q: Vec2, r: Vec2) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return 0;
  return Math.min(fromSegment(a, c, d), fromSegment(b, c, d), fromSegment(c, a, b), fromSegment(d, a, b));
}

function fromSegment(p: Vec2, a: Vec2, b: Vec2): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy);
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}
