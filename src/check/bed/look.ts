import { convexRing } from '../../math/convex-ring.ts';
import { add, cross, normalize, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Corners } from './corners.ts';
import { bestFlatTurn, lowered, type Tilt } from './flat-turn.ts';
import type { BedAxes } from './stands.ts';

/** Corners seen along a direction. */
export interface Sight {
  up: Vec3;
  /** Square to it and to each other. */
  right: Vec3;
  rear: Vec3;
  /** x, y of each corner, and how far along the direction it lies, mm. */
  flat: Float64Array;
  heights: Float64Array;
  heightMm: number;
  /** The square of the length of what the height spans, mm². */
  square: number;
}

/** What a look along a direction comes to, of all turns about it. */
export interface Look {
  axes: BedAxes;
  /** What the known corners have too much in the best of them, mm; negative where room is left. */
  overMm: number;
  /** What they have at least in any turn about any direction within the tilt, mm. */
  floorMm: number;
}

/** Sees the known corners along a unit vector. */
export function seeAlong(up: Vec3, corners: Corners): Sight {
  const right = normalize(cross(Math.abs(up[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0], up));
  const rear = cross(up, right);
  const { places, count } = corners;
  const flat = new Float64Array(count * 2);
  const heights = new Float64Array(count);
  let [low, high] = [0, 0];
  for (let i = 0; i < count; i++) {
    const x = places[i * 3];
    const y = places[i * 3 + 1];
    const z = places[i * 3 + 2];
    flat[i * 2] = x * right[0] + y * right[1] + z * right[2];
    flat[i * 2 + 1] = x * rear[0] + y * rear[1] + z * rear[2];
    heights[i] = x * up[0] + y * up[1] + z * up[2];
    if (heights[i] < heights[low]) low = i;
    if (heights[i] > heights[high]) high = i;
  }
  const heightMm = heights[high] - heights[low];
  const aside = (flat[high * 2] - flat[low * 2]) ** 2 + (flat[high * 2 + 1] - flat[low * 2 + 1]) ** 2;
  return { up, right, rear, flat, heights, heightMm, square: aside + heightMm ** 2 };
}

/** What the height alone has too much at least about any direction within the tilt, mm. */
export const heightFloor = ({ heightMm, square }: Sight, bedMm: Vec3, tilt: Tilt): number =>
  lowered(heightMm, square, tilt) - bedMm[2];

/** The best turn about the direction that is seen along. */
export function lookAlong(sight: Sight, bedMm: Vec3, tilt: Tilt): Look {
  const { up, right, rear, heightMm } = sight;
  const flat = bestFlatTurn(sight, convexRing(sight.flat), bedMm, tilt);
  const c = Math.cos(flat.angle);
  const s = Math.sin(flat.angle);
  return {
    axes: [sub(scale(right, c), scale(rear, s)), add(scale(right, s), scale(rear, c)), up],
    overMm: Math.max(flat.overMm, heightMm - bedMm[2]),
    floorMm: Math.max(flat.floorMm, heightFloor(sight, bedMm, tilt)),
  };
}
