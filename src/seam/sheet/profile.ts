import { fromFrame, type PlaneFrame, planeFrame, toFrame } from '../../math/plane.ts';
import { add, dot, normalize, scale, sub, type Vec2, type Vec3 } from '../../math/vec3.ts';
import type { SheetSpec } from '../../model/seam-schema.ts';
import { chainFault, lineChain } from '../../model/sheet-line.ts';
import type { SculptPlace } from '../kind.ts';

/**
 * A sheet seen against its sweep: a chain of straight segments in a plane, its first and last run on beyond everything.
 * The front lies to the left of the chain as it is walked.
 */
export interface Profile {
  /** In recentred coordinates; its normal is the sweep, towards who looks. */
  frame: PlaneFrame;
  /** The chain's points in the frame, mm: the far ends, and the corners between. */
  x: Float64Array;
  y: Float64Array;
  /** Per segment, which is a facet of its number, 1 where it stands for a bit of a curve. */
  isBent: Uint8Array;
  /** Around all that lies to the left within reach: the chain, and a way round behind it. Counter-clockwise. */
  left: Float64Array;
}

/** What may be wrong with a line. */
export type LineFault = 'doubled' | 'crosses' | 'flats';

/** The sheet of a seam, in reach of a sculpt; or what is wrong with its line, and where in the file's coordinates. */
export function sheetProfile(
  by: SheetSpec,
  { originMm, middle, longestMm }: SculptPlace,
): { profile: Profile } | { is: LineFault; at: Vec3 } {
  const frame = planeFrame({ normal: normalize(by.along), offset: 0 });
  const line = lineChain(by, (p) => toFrame(frame, sub(p, originMm)));
  if (line === null) return { is: 'flats', at: by.flats?.[0].at ?? by.line[0] };
  const { points, isBent } = line;
  const centre = toFrame(frame, middle);
  const last = points.length - 1;
  // Just out of reach of the figure and of the line itself: where the ends would meet farther out is nobody's concern.
  const reach = Math.max(longestMm, ...points.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1])));
  const chain = [...points];
  if (distance(points[0], points[1]) > 0) chain[0] = beyond(points[1], points[0], 2.5 * reach);
  if (distance(points[last - 1], points[last]) > 0)
    chain[last] = beyond(points[last - 1], points[last], 2.5 * reach);
  const fault = chainFault(chain);
  if (fault) return { is: fault.is, at: add(fromFrame(frame, fault.at, dot(frame.n, middle)), originMm) };
  return {
    profile: {
      frame,
      x: Float64Array.from(chain, ([x]) => x),
      y: Float64Array.from(chain, ([, y]) => y),
      isBent,
      left: Float64Array.from([...chain, ...wayRound(chain[last], chain[0], centre, 8 * reach)].flat()),
    },
  };
}

const distance = (a: Vec2, b: Vec2): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** A point beyond `to` as seen from `from`, `by` mm on. */
function beyond(from: Vec2, to: Vec2, by: number): Vec2 {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  return [to[0] + (dx / length) * by, to[1] + (dy / length) * by];
}

/** Points far out from `from` counter-clockwise to `to`, all `radius` from the centre: no farther apart than an eighth of a turn. */
function wayRound(from: Vec2, to: Vec2, [cx, cy]: Vec2, radius: number): Vec2[] {
  const angle = ([x, y]: Vec2) => Math.atan2(y - cy, x - cx);
  const begin = angle(from);
  let turn = angle(to) - begin;
  if (turn <= 0) turn += 2 * Math.PI;
  const count = Math.ceil(turn / (Math.PI / 4));
  return Array.from({ length: count + 1 }, (_, i): Vec2 => {
    const a = begin + (turn * i) / count;
    return [cx + radius * Math.cos(a), cy + radius * Math.sin(a)];
  });
}

/** The frame of the plane that a segment sweeps, its normal to the front; its origin is the point nearest to `near`. */
export function segmentFrame({ frame, x, y }: Profile, segment: number, near: Vec3): PlaneFrame {
  const dx = x[segment + 1] - x[segment];
  const dy = y[segment + 1] - y[segment];
  const normal = normalize(add(scale(frame.u, -dy), scale(frame.v, dx)));
  const on = add(frame.origin, add(scale(frame.u, x[segment]), scale(frame.v, y[segment])));
  const offset = normal[0] * on[0] + normal[1] * on[1] + normal[2] * on[2];
  return planeFrame({ normal, offset }, near);
}

/** How far each segment's direction to the front is turned from u to v of the profile's frame, degrees, counted on along the chain. */
export function segmentTurns({ x, y }: Profile): number[] {
  const turns: number[] = [];
  for (let j = 0; j + 1 < x.length; j++) {
    const angle = (Math.atan2(x[j + 1] - x[j], y[j] - y[j + 1]) * 180) / Math.PI;
    const before = turns.at(-1) ?? angle;
    turns.push(angle + 360 * Math.round((before - angle) / 360));
  }
  return turns;
}
