import type { Part } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { makeRandom } from './prng.ts';
import { bell, cylinder, length2, smoothMax, smoothStep } from './sdf.ts';

/** Height of the post's top, mm. */
export const POST_TOP_MM = 48;
/** Height of the water the post stands in, mm. */
export const WATER_MM = 5.5;

/** Farther away than this the post is a plain cylinder that holds it, mm. */
const FAR = 4;

const postRadius = (z: number): number => 18.6 - 1.1 * smoothStep(0, POST_TOP_MM, z);

/** A weathered oak post: grain, checks that opened as it dried, rings on its end. */
export function makePost(style: FigureStyle, seed: number): Part {
  const random = makeRandom(seed + 11);
  const checks = Array.from({ length: 7 }, (_, i) => ({
    angle: ((i + 0.7 * random()) / 7) * 2 * Math.PI,
    from: 4 + 18 * random(),
    to: 32 + 15 * random(),
    depth: 0.7 + 0.4 * random(),
  }));
  const grain = style.octaves(2.6);
  const { noise } = style;
  return {
    box: [-20, -20, 0, 20, 20, POST_TOP_MM + 1],
    blendMm: 0,
    distance(x, y, z) {
      const across = length2(x, y);
      const rough = cylinder(across, z, 19.4, 1, POST_TOP_MM + 0.5, 3.2);
      if (rough > FAR) return rough;
      const sway = 0.7 * noise(x * 0.045, y * 0.045, z * 0.03 + 5);
      const crown = 0.0022 * across * across;
      return cylinder(across, z, postRadius(z) + sway, 2, POST_TOP_MM - crown, 3.2);
    },
    relief(x, y, z) {
      const across = length2(x, y);
      const angle = Math.atan2(y, x);
      const end = smoothStep(POST_TOP_MM - 2, POST_TOP_MM - 0.4, z + 0.0022 * across * across);
      const wander = 0.06 * noise(3.3, z * 0.09, 8.1);
      let bark = 0.42 * Math.abs(grain(x * 1.15, y * 1.15, z * 0.09)) - 0.22;
      for (const c of checks) {
        const turn = Math.atan2(Math.sin(angle - c.angle - wander), Math.cos(angle - c.angle - wander));
        const reach = smoothStep(c.from, c.from + 9, z) * smoothStep(c.to + 4, c.to - 6, z);
        bark -= c.depth * reach * bell(turn * across, 0.7) * (1 - 0.6 * end);
      }
      const rings =
        0.2 * Math.sin(across * 3.3 + 2.2 * noise(x * 0.13, y * 0.13, 2)) -
        0.3 * bell(Math.sin(angle * 2.5 + 0.4), 0.06) * smoothStep(16, 9, across);
      return (bark * (1 - end) + rings * end) * smoothStep(0.6, 2.5, z);
    },
  };
}

/** An iron band with rivets. */
export function makeBand(style: FigureStyle): Part {
  const [low, high] = [38.2, 44];
  const pits = style.octaves(1.6);
  return {
    box: [-21, -21, low, 21, 21, high],
    blendMm: 0.4,
    distance: (x, y, z) => cylinder(length2(x, y), z, 19.1, low, high, 0.8),
    relief(x, y, z) {
      const angle = Math.atan2(y, x);
      const spacing = Math.PI / 5;
      const near = (Math.round(angle / spacing) * spacing - angle) * 19;
      const rivet = Math.max(0, 1 - (near ** 2 + (z - (low + high) / 2) ** 2) / 2.2);
      const lip = 0.3 * (smoothStep(1.5, 0.9, z - low) + smoothStep(1.5, 0.9, high - z));
      return 0.95 * Math.sqrt(rivet) + lip + 0.1 * pits(x, y, z);
    },
  };
}

/** The water: a round pool with ripples running out from the post. */
export function makeWater(style: FigureStyle): Part {
  const { noise } = style;
  return {
    box: [-39, -39, 0, 39, 39, WATER_MM + 0.5],
    blendMm: 1.5,
    distance(x, y, z) {
      const shore = 36 + 1.6 * noise(x * 0.05, y * 0.05, 4.2);
      return smoothMax(cylinder(length2(x, y), z, shore, -4, WATER_MM, 3.4), -z, 1.2);
    },
    relief(x, y, z) {
      const across = length2(x, y) + 1.3 * noise(x * 0.06, y * 0.06, 7.7);
      const rings =
        0.75 * Math.cos((across - 18) * 1.4) * bell((across - 18) / 13, 1) * smoothStep(18, 25, across);
      return (rings + 0.16 * noise(x * 0.2, y * 0.2, 1)) * smoothStep(1.5, 4.5, z);
    },
  };
}
