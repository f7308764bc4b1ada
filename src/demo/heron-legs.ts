import { type Chain, makeChain } from './chain.ts';
import type { Part } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { bell, smoothStep } from './sdf.ts';

/** Where the feet stand: x, y and the height of the post's top, mm. */
const FEET = [
  { x: 3, y: 6.6, turn: 0.08 },
  { x: -5, y: -6.6, turn: -0.2 },
] as const;

/** Toes as turn from straight ahead (radians) and length (mm); the last is the hind toe. */
const TOES = [
  [-0.66, 10.5],
  [0, 12],
  [0.66, 10.5],
  [Math.PI - 0.25, 8],
] as const;

/** Two legs, each with feathered thigh, ankle, scaled shank and four toes. `topMm` is the height they stand on. */
export function makeLegs(style: FigureStyle, topMm: number): Part[] {
  return FEET.flatMap(({ x, y, turn }) => {
    const ankle = [x - 4.5, y * 0.97, topMm + 22.5] as const;
    const thigh = makeChain([
      [-3 + x * 0.4, y * 1.02, 97, 8],
      [-2.5 + x * 0.55, y * 1.05, 88, 6],
      [-2.6 + x * 0.7, y, 79, 3.5],
      [ankle[0] + 0.4, ankle[1], ankle[2] + 3, 2],
      [...ankle, 1.9],
    ]);
    const shank = makeChain([
      [ankle[0] + 0.6, ankle[1], ankle[2] + 3, 2.1],
      [ankle[0], ankle[1], ankle[2], 2.3],
      [ankle[0] + 0.8, ankle[1], ankle[2] - 4, 1.95],
      [x - 0.9, y, topMm + 7, 1.9],
      [x, y, topMm + 1.8, 2.5],
    ]);
    const toes = TOES.map(([angle, length]) => makeToe(x, y, topMm, turn + angle, length));
    return [makeThigh(thigh, style), makeShank(shank), ...toes.map((toe) => makeToePart(toe))];
  });
}

function makeThigh(chain: Chain, style: FigureStyle): Part {
  const hair = style.octaves(2);
  return {
    box: chain.box,
    blendMm: 5,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief: (x, y, z) => 0.7 * (0.25 - Math.abs(hair(x * 0.9, y * 0.9, z * 0.2))) * smoothStep(74, 80, z),
  };
}

function makeShank(chain: Chain): Part {
  return {
    box: chain.box,
    blendMm: 1.2,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief(x, y, z) {
      chain.distance(x, y, z);
      const front = smoothStep(-0.3, 0.6, chain.offset[0] / chain.radius);
      return -0.16 * bell(Math.sin(chain.at * 2.1), 0.35) * (0.35 + 0.65 * front);
    },
  };
}

function makeToe(x: number, y: number, topMm: number, angle: number, length: number): Chain {
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  return makeChain([
    [x, y, topMm + 1.8, 2.2],
    [x + dx * length * 0.4, y + dy * length * 0.4, topMm + 0.9, 1.75],
    [x + dx * length * 0.8, y + dy * length * 0.8, topMm + 0.3, 1.65],
    [x + dx * length, y + dy * length, topMm - 0.4, 1],
  ]);
}

function makeToePart(chain: Chain): Part {
  return {
    box: chain.box,
    blendMm: 1,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief(x, y, z) {
      chain.distance(x, y, z);
      return -0.15 * bell(Math.sin(chain.at * 1.7), 0.35) * smoothStep(0, 0.6, chain.offset[2]);
    },
  };
}
