import type { Field, Part } from './field.ts';
import { uniteParts } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { BEAK } from './heron-head.ts';
import { cylinder, ellipsoid, length2, length3, smoothMin, smoothStep, torus } from './sdf.ts';

/** Air left between links that hang in each other, mm. */
const LINK_AIR = 0.4;

const RING = { x: 55, major: 4.9, minor: 1.15 } as const;
const LOOP = { major: 3, minor: 1.05 } as const;
/** Wires guarding the glass. */
const WIRES = { count: 4, radius: 1.15, out: 9.6 } as const;

const beakAt = (x: number): { z: number; radius: number } => {
  const t = (x - BEAK.from[0]) / (BEAK.to[0] - BEAK.from[0]);
  return {
    z: BEAK.from[1] + t * (BEAK.to[1] - BEAK.from[1]),
    radius: BEAK.thickMm + t * (BEAK.tipMm - BEAK.thickMm),
  };
};

/** The ring hangs on the beak, the lantern's loop on the ring; heights follow from that. */
const beak = beakAt(RING.x);
const ringZ = beak.z + beak.radius + LINK_AIR - (RING.major - RING.minor);
const loopZ = ringZ - RING.major + RING.minor + LINK_AIR - (LOOP.major - LOOP.minor);
const roofZ = loopZ - LOOP.major;

/** The ring round the beak, in a plane across it. */
export function makeRing(): Field {
  const reach = RING.major + RING.minor;
  return uniteParts([
    {
      box: [RING.x - RING.minor, -reach, ringZ - reach, RING.x + RING.minor, reach, ringZ + reach],
      blendMm: 0,
      distance: (x, y, z) => torus(length2(y, z - ringZ), x - RING.x, RING.major, RING.minor),
    },
  ]);
}

/** The lantern: loop, roof, glass, four guard wires with a hoop, and foot. Its solid has nine holes through it. */
export function makeLantern(style: FigureStyle): Field {
  const pits = style.octaves(1.6);
  const inFrame = (part: Part): Part => ({
    ...part,
    distance: (x, y, z) => part.distance(x - RING.x, y, z - roofZ),
    box: [
      RING.x + part.box[0],
      part.box[1],
      roofZ + part.box[2],
      RING.x + part.box[3],
      part.box[4],
      roofZ + part.box[5],
    ],
  });
  const loopReach = LOOP.major + LOOP.minor;
  const parts: Part[] = [
    {
      box: [-loopReach, -LOOP.minor, 0, loopReach, LOOP.minor, LOOP.major + loopReach],
      blendMm: 0,
      distance: (x, y, z) => torus(length2(x, z - LOOP.major), y, LOOP.major, LOOP.minor),
    },
    { ...roof, relief: (x, y, z) => roofRelief(x - RING.x, y, z - roofZ) + 0.08 * pits(x, y, z) },
    glass,
    cage,
    { ...foot, relief: (x, y, z) => 0.08 * pits(x, y, z) },
  ];
  return uniteParts(parts.map(inFrame));
}

const roof: Part = {
  box: [-11, -11, -12, 11, 11, 0.6],
  blendMm: 0.8,
  distance(x, y, z) {
    const across = length2(x, y);
    const knob = length2(across, z + 0.9) - 1.9;
    const stack = cylinder(across, z, 4.1, -4.8, -2.2, 1);
    const flare = 4.2 + 5.9 * smoothStep(-4.2, -10.4, z) ** 1.15;
    const cone = cylinder(across, z, flare, -10.8, -3.4, 0.9) * 0.75;
    return smoothMin(smoothMin(knob, stack, 0.8), cone, 0.8);
  },
};

/** Eight ribs of the sheet-metal roof. */
function roofRelief(x: number, y: number, z: number): number {
  const ribs = Math.cos(Math.atan2(y, x) * 8);
  return 0.3 * smoothStep(0.6, 1, ribs) * smoothStep(-4.5, -6, z) * smoothStep(-10.6, -9.6, z);
}

const glass: Part = {
  box: [-6.6, -6.6, -26, 6.6, 6.6, -9],
  blendMm: 0.6,
  distance: (x, y, z) =>
    smoothMin(ellipsoid(x, y, z + 18, 6.3, 6.3, 8), cylinder(length2(x, y), z, 4.6, -26, -9.5, 0.6), 1.5),
};

const cage: Part = {
  box: [-11, -11, -27, 11, 11, -9],
  blendMm: 0.7,
  distance(x, y, z) {
    const quarter = Math.PI / 2;
    const angle = Math.atan2(y, x) - quarter / 2;
    const turn = angle - Math.round(angle / quarter) * quarter;
    const across = length2(x, y);
    const bow = WIRES.out - 0.022 * (z + 18) ** 2;
    const past = Math.max(0, -26.5 - z, z + 9.5);
    const wire = length3(across * Math.cos(turn) - bow, across * Math.sin(turn), past) - WIRES.radius;
    const hoop = torus(across, z + 18, WIRES.out, WIRES.radius * 0.92);
    return smoothMin(wire, hoop, 0.5);
  },
};

const foot: Part = {
  box: [-9.5, -9.5, -31, 9.5, 9.5, -25],
  blendMm: 0.7,
  distance(x, y, z) {
    const across = length2(x, y);
    const pan = cylinder(across, z, 9.2, -28.6, -25.6, 1);
    return smoothMin(pan, cylinder(across, z, 7.4 + 0.5 * smoothStep(-29, -31, z), -31, -28, 0.8), 0.6);
  },
};
