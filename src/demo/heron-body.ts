import { type Chain, makeChain } from './chain.ts';
import { featherHeight } from './feathers.ts';
import type { Box, Part } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { smoothMax, smoothStep } from './sdf.ts';

/** The bird looks along +x and stands above the origin; y is its left. */

/** The trunk is narrower than it is high by this. */
const TRUNK_SQUASH = 1.12;
/** The folded wing lies this high on the trunk, mm. */
const WING_THICKNESS = 1.9;

/** The trunk's axis from the tail to the breast, shared by what lies on it. */
export const makeTrunkChain = (): Chain =>
  makeChain([
    [-50, 0, 75.5, 1.9],
    [-43, 0, 79, 4],
    [-30, 0, 86, 9.5],
    [-16, 0, 94, 14.2],
    [-2, 0, 102.5, 16.6],
    [9, 0, 110, 15.4],
    [17, 0, 117, 11.6],
  ]);

/** Trunk and tail, with soft feathers. */
export function makeTrunk(style: FigureStyle, chain: Chain): Part {
  const feathers = style.feathers(5, 4);
  const down = style.octaves(2.4);
  return {
    box: chain.box,
    blendMm: 0,
    distance: (x, y, z) => chain.distance(x, y * TRUNK_SQUASH, z) / 1.06,
    relief(x, y, z) {
      chain.distance(x, y * TRUNK_SQUASH, z);
      const around = Math.atan2(chain.offset[1], chain.offset[2]);
      const rows = (chain.lengthMm - chain.at) / 5;
      const columns = (around * 24) / (2 * Math.PI);
      const fadeIn = smoothStep(2, 12, chain.at) * smoothStep(0, 8, chain.lengthMm - chain.at);
      return (
        fadeIn * (0.55 * featherHeight(rows, columns, feathers) - 0.25) + 0.1 * down(x * 0.6, y, z * 0.6)
      );
    },
  };
}

/** The folded wing's axis seen from the side: where it starts, and its direction towards the tip. */
const WING_FROM = [16, 116] as const;
const WING_ALONG = [-0.852, -0.523] as const;

/** Both folded wings: a leaf-shaped layer that follows the trunk. */
export function makeWings(style: FigureStyle, trunk: Chain): Part {
  const leaf = makeChain([
    [10, 0, 113.5, 6.5],
    [2, 0, 109.5, 10.4],
    [-11, 0, 101, 12],
    [-27, 0, 90.5, 9.6],
    [-43, 0, 80.5, 5],
    [-56, 0, 71.5, 1.5],
  ]);
  const feathers = style.feathers(7, 3.6);
  const thickness = (x: number) => WING_THICKNESS * (0.85 + 0.3 * smoothStep(0, -40, x));
  const box = trunk.box.map((v, k) => v + (k < 3 ? -3.5 : 3.5)) as unknown as Box;
  return {
    box,
    blendMm: 0.4,
    distance(x, y, z) {
      const layer = trunk.distance(x, y * TRUNK_SQUASH, z) / 1.06 - thickness(x);
      const parting = 1.1 - Math.abs(y);
      if (layer > 8) return layer;
      return smoothMax(smoothMax(layer, leaf.distance(x, 0, z), 1.3), parting, 1.6);
    },
    relief(x, y, z) {
      const [dx, dz] = [x - WING_FROM[0], z - WING_FROM[1]];
      const s = dx * WING_ALONG[0] + dz * WING_ALONG[1];
      const below = dx * WING_ALONG[1] - dz * WING_ALONG[0];
      const halfWidth = 12.5 - 8 * smoothStep(30, 90, s);
      const height = featherHeight(
        wingRows(s),
        3.1 * (below / halfWidth) + 11.3 + (y < 0 ? 0.3 : 0),
        feathers,
      );
      const edge = leaf.distance(x, 0, z);
      return 1.05 * (height - 0.45) * smoothStep(0.4, -1.4, edge);
    },
  };
}

/** Rows of feathers from the shoulder on: small coverts first, then longer and longer quills. */
const wingRows = (s: number): number => 7.6 * (1 - Math.exp(-s / 30));
