import { dot, scale, type Vec3 } from '../../math/vec3.ts';
import type { Bounds } from '../../mesh/measure.ts';
import type { BedAxes } from './stands.ts';

/** The corner of a part that lies farthest along a direction, mm. */
export type Farthest = (direction: Vec3) => Vec3;

/** From where to where something reaches along a unit vector, mm. */
export interface Span {
  low: number;
  high: number;
}

export const spanAlong = (farthest: Farthest, axis: Vec3): Span => ({
  low: dot(axis, farthest(scale(axis, -1))),
  high: dot(axis, farthest(axis)),
});

/** The same of a box. */
export const spanOfBox = ({ min, max }: Bounds, axis: Vec3): Span => {
  const end = (towards: number): Vec3 => {
    const at = (k: number) => (axis[k] * towards > 0 ? max[k] : min[k]);
    return [at(0), at(1), at(2)];
  };
  return { low: dot(axis, end(-1)), high: dot(axis, end(1)) };
};

/** What a part has too much along the bed's axes at most, mm; negative where room is left. */
export const overAlong = (farthest: Farthest, axes: BedAxes, bedMm: Vec3): number =>
  Math.max(
    ...axes.map((axis, k) => {
      const { low, high } = spanAlong(farthest, axis);
      return high - low - bedMm[k];
    }),
  );

/**
 * Corners of a part as they become known. A part reaches at least as far as they do in every direction, so that a turn
 * in which they do not fit is one in which it does not; that it fits is measured on the part, which makes more of its
 * corners known where it sticks out.
 */
export class Corners {
  readonly #farthest: Farthest;
  readonly #asked: { direction: Vec3; corner: Vec3 }[] = [];
  #places = new Float64Array(3 * 64);
  #count = 0;

  constructor(farthest: Farthest) {
    this.#farthest = farthest;
    for (const direction of ALL_ROUND) this.#reach(direction);
  }

  get count(): number {
    return this.#count;
  }

  /** x, y, z of each, and room for more, mm. */
  get places(): Float64Array {
    return this.#places;
  }

  /** What the part itself has too much along the bed's axes at most, mm; where it ends is known then. */
  measure(axes: BedAxes, bedMm: Vec3): number {
    return overAlong((direction) => this.#reach(direction), axes, bedMm);
  }

  /** True where another part has all of these corners too. */
  areOf(farthest: Farthest): boolean {
    return this.#asked.every(({ direction, corner }) => isSamePlace(farthest(direction), corner));
  }

  #reach(direction: Vec3): Vec3 {
    const corner = this.#farthest(direction);
    if (this.#asked.some((known) => isSamePlace(known.corner, corner))) return corner;
    this.#asked.push({ direction, corner });
    if (this.#count * 3 === this.#places.length) {
      const wider = new Float64Array(this.#places.length * 2);
      wider.set(this.#places);
      this.#places = wider;
    }
    this.#places.set(corner, this.#count * 3);
    this.#count++;
    return corner;
  }
}

const isSamePlace = (a: Vec3, b: Vec3): boolean => a[0] === b[0] && a[1] === b[1] && a[2] === b[2];

/** Towards the sides, edges and corners of a cube. */
const ALL_ROUND: Vec3[] = [-1, 0, 1]
  .flatMap((x) => [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((z): Vec3 => [x, y, z])))
  .filter((direction) => dot(direction, direction) > 0);
