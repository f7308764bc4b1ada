import { roundTo, type SweptLine, type Vec3 } from '../../src/index.ts';
import type { Ray } from './seam-tool.ts';

/** Points of a line that a seam is swept from: where hands put them. File coordinates, mm. */

/** Looking this nearly square to the sweep (cosine), a pixel would be a leap: such moves are ignored. */
const LEAST_COS = 0.05;
const PER_MM = 100;

/** Where a ray meets the plane square to the sweep through a point; null when it looks along that plane. */
export function placeAcross({ origin, direction }: Ray, along: Vec3, through: Vec3): Vec3 | null {
  const facing = dot(direction, along) / Math.hypot(...along);
  if (Math.abs(facing) < LEAST_COS) return null;
  const t = dot(sub(through, origin), along) / dot(direction, along);
  return tidy(origin.map((c, k) => c + t * direction[k]!) as unknown as Vec3);
}

/** The line with one point elsewhere, which takes its flat along. */
export const movedLine = (
  { line, flats }: Pick<SweptLine, 'line' | 'flats'>,
  point: number,
  to: Vec3,
): Pick<SweptLine, 'line' | 'flats'> => ({
  line: line.map((p, i) => (i === point ? to : p)),
  flats: flats.map((flat) => (isAt(flat, line[point]!) ? { ...flat, at: to } : flat)),
});

/** The line with a point more in the middle of a run. */
export const withPointOn = (line: readonly Vec3[], run: number): Vec3[] => [
  ...line.slice(0, run + 1),
  middleOf(line, run),
  ...line.slice(run + 1),
];

/** The line without a point and its flat; the same one where it would have no run left. */
export const shortenedLine = (
  { line, flats }: Pick<SweptLine, 'line' | 'flats'>,
  point: number,
): Pick<SweptLine, 'line' | 'flats'> =>
  line.length > 2
    ? { line: line.filter((_, i) => i !== point), flats: flats.filter((flat) => !isAt(flat, line[point]!)) }
    : { line, flats };

/** The flat at a point of a line, if it has one. */
export const flatAt = (flats: SweptLine['flats'], at: Vec3): SweptLine['flats'][number] | undefined =>
  flats.find((flat) => isAt(flat, at));

/** Flats with one at a point, so wide; none there without a width. */
export const withFlat = (
  flats: SweptLine['flats'],
  at: Vec3,
  widthMm: number | undefined,
): SweptLine['flats'] => [
  ...flats.filter((flat) => !isAt(flat, at)),
  ...(widthMm === undefined ? [] : [{ at, widthMm }]),
];

const isAt = ({ at }: SweptLine['flats'][number], p: Vec3): boolean => at.every((c, k) => c === p[k]);

export const middleOf = (line: readonly Vec3[], run: number): Vec3 =>
  tidy(line[run]!.map((c, k) => (c + line[run + 1]![k]!) / 2) as unknown as Vec3);

/** Two directions across a sweep: level, and upwards of it, as a person who looks against it sees them. */
export function acrossSweep(along: Vec3): { right: Vec3; up: Vec3 } {
  const length = Math.hypot(...along);
  const [x, y, z] = along.map((c) => c / length) as unknown as Vec3;
  const flat = Math.hypot(x, y);
  const right: Vec3 = flat > 1e-6 ? [-y / flat, x / flat, 0] : [1, 0, 0];
  return {
    right,
    up: [y * right[2] - z * right[1], z * right[0] - x * right[2], x * right[1] - y * right[0]],
  };
}

const tidy = (p: Vec3): Vec3 => p.map((c) => roundTo(c, PER_MM)) as unknown as Vec3;
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
