import { makeChain } from './chain.ts';
import type { Part } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { bell, ellipsoid, length2, length3, smoothMin, smoothStep } from './sdf.ts';

/** Middle of the head, mm. */
const HEAD = [22.5, 171.2] as const;
/** The beak's axis from the brow to the tip, x and z. */
export const BEAK = { from: [28, 171], to: [67, 164.2], thickMm: 3.5, tipMm: 0.75 } as const;

/** The neck, an S from the breast to the nape. */
export function makeNeck(style: FigureStyle): Part {
  const chain = makeChain([
    [13, 0, 113.5, 12.6],
    [21.5, 0, 120.5, 8.6],
    [29, 0, 128.4, 6],
    [30.6, 0, 137, 4.9],
    [24.6, 0, 146, 4.4],
    [15.4, 0, 152.8, 4.2],
    [10.8, 0, 160.5, 4.1],
    [14, 0, 167.8, 4.3],
    [21, 0, 171, 4.7],
  ]);
  const hair = style.octaves(2.6);
  return {
    box: chain.box,
    blendMm: 4,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief(x, y, z) {
      chain.distance(x, y, z);
      const around = Math.atan2(chain.offset[1], chain.offset[0]);
      const rim = around * 5.5;
      const streaks = 0.3 - Math.abs(hair(rim, chain.at * 0.16, 3));
      return 0.85 * streaks * smoothStep(0, 14, chain.at);
    },
  };
}

/** Skull with brow, eyes, cheek and crest. */
export function makeHead(style: FigureStyle): Part[] {
  const hair = style.octaves(1.8);
  const skull: Part = {
    box: [10, -7, 163, 36, 7, 179],
    blendMm: 2.5,
    distance(x, y, z) {
      const dx = x - HEAD[0];
      const dz = z - HEAD[1];
      const along = dx * 0.985 - dz * 0.17;
      const up = dz * 0.985 + dx * 0.17;
      return smoothMin(
        ellipsoid(along, y, up, 9.6, 4.9, 5),
        ellipsoid(along + 3, y, up - 1.6, 6, 4.5, 4.2),
        2,
      );
    },
    relief: (x, y, z) =>
      0.22 * hair(x * 0.25, y, z * 1.2) * smoothStep(29, 25, x) -
      0.35 * bell(length2(x - 27.2, z - 172.2) - 2.2, 0.55),
  };
  return [
    skull,
    ...makePads(),
    ...[1, -1].flatMap((side) => [makeBrow(side), makeEye(side)]),
    ...[-1, 0, 1].map((i) => makeCrestPlume(i, style)),
  ];
}

/** Flesh behind the brows and under the roots of the crest, so that no slit runs through behind them. */
function makePads(): Part[] {
  const chains = [
    makeChain([
      [18, 0, 173.4, 4],
      [9.5, 0, 171.9, 3.3],
    ]),
    ...[1, -1].map((side) =>
      makeChain([
        [23, side * 2.1, 173.2, 2.3],
        [30.5, side * 1.6, 172.8, 2.1],
      ]),
    ),
  ];
  return chains.map((chain) => ({ box: chain.box, blendMm: 2, distance: chain.distance }));
}

/** A round eye; the skull's relief has a groove round it. */
function makeEye(side: number): Part {
  const [ex, ey, ez] = [27.2, side * 3.65, 172.1];
  return {
    box: [ex - 2.4, ey - 2.4, ez - 2.4, ex + 2.4, ey + 2.4, ez + 2.4],
    blendMm: 0.2,
    distance: (x, y, z) => length3(x - ex, y - ey, z - ez) - 1.8,
  };
}

/** The dark stripe of a heron's face, as a ridge from the lore over the eye to the nape. */
function makeBrow(side: number): Part {
  const chain = makeChain([
    [33, side * 2.1, 172.9, 0.6],
    [28.5, side * 3.3, 174.5, 0.9],
    [22.5, side * 3.8, 175.1, 1.1],
    [15.5, side * 3, 174, 0.9],
  ]);
  return { box: chain.box, blendMm: 0.9, distance: (x, y, z) => chain.distance(x, y, z) };
}

/** One of the long plumes that lift off the nape. */
function makeCrestPlume(i: number, style: FigureStyle): Part {
  const chain = makeChain([
    [25, i * 1.4, 175.6, 1.4],
    [16.5, i * 2.5, 176.2 - Math.abs(i) * 0.8, 1.8],
    [7, i * 4.3, 173 - Math.abs(i) * 1.2, 1.5],
    [0, i * 5.4, 166.8 - Math.abs(i) * 1, 1.2],
    [-4 + 1.6 * Math.abs(i), i * 5.8, 160 + 1.6 * Math.abs(i), 0.8],
  ]);
  const hair = style.octaves(1.2);
  return {
    box: chain.box,
    blendMm: 1.4,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief: (x, y, z) => 0.16 * hair(x * 0.15, y * 1.5, z * 1.5),
  };
}

/** The shut beak: a long dagger with the line of the gape and a nostril. */
export function makeBeak(): Part {
  const { from, to, thickMm, tipMm } = BEAK;
  const chain = makeChain([
    [from[0], 0, from[1], thickMm],
    [to[0], 0, to[1], tipMm],
  ]);
  return {
    box: chain.box,
    blendMm: 1.6,
    distance: (x, y, z) => chain.distance(x, y * 1.18, z) / 1.08,
    relief(x, y, z) {
      const t = (x - from[0]) / (to[0] - from[0]);
      const up = z - (from[1] + t * (to[1] - from[1])) + 0.35;
      const groove = -0.45 * bell(up, 0.42) * smoothStep(1.02, 0.9, t) * smoothStep(0.1, 0.9, Math.abs(y));
      const nostril = -0.5 * bell(up - 1.5, 0.35) * bell(x - 34.5, 2);
      return groove + nostril;
    },
  };
}
