import { makeChain } from './chain.ts';
import type { Part } from './field.ts';
import { cylinder, length2, length3, smoothStep } from './sdf.ts';

/** A three-strand mooring rope: turns round the post, and an end that hangs. All mm. */
const ROPE = { radius: 2.7, coil: 19.9, pitch: 4.9, low: 17.6, turns: 3.25, startAngle: -2.2 } as const;
/** Turns of a strand for each mm of rope. */
const LAY_PER_MM = 0.085;

/** Height of the three strands on a rope, from the angle round it and the length along it. */
function strandRelief(angle: number, along: number): number {
  const phase = 1.5 * (angle + 2 * Math.PI * LAY_PER_MM * along);
  return 0.75 * (Math.abs(Math.sin(phase)) ** 0.7 - 0.75);
}

/** The turns: a helix, with the room behind it filled so that no hidden hollow stays between rope and post. */
export function makeCoil(): Part {
  const { radius, coil, pitch, low, turns, startAngle } = ROPE;
  const high = low + pitch * turns;
  const hit = { along: 0, out: 0, up: 0 };
  const toRope = (x: number, y: number, z: number): number => {
    const across = length2(x, y);
    const start = (Math.atan2(y, x) - startAngle) / (2 * Math.PI);
    const fraction = start - Math.floor(start);
    const turn = Math.round((z - low) / pitch - fraction) + fraction;
    const nearest = turn < 0 ? turn + 1 : turn > turns ? turn - 1 : turn;
    hit.out = across - coil;
    hit.up = z - low - pitch * nearest;
    hit.along = 2 * Math.PI * coil * nearest;
    const ends = Math.min(toEnd(x, y, z, 0), toEnd(x, y, z, turns));
    return nearest < 0 || nearest > turns ? ends : Math.min(ends, length2(hit.out, hit.up) - radius);
  };
  const toEnd = (x: number, y: number, z: number, turn: number): number => {
    const angle = startAngle + 2 * Math.PI * turn;
    return length3(x - coil * Math.cos(angle), y - coil * Math.sin(angle), z - low - pitch * turn) - radius;
  };
  return {
    box: [-23, -23, low - 3, 23, 23, high + 3],
    blendMm: 0.3,
    distance: (x, y, z) =>
      Math.min(toRope(x, y, z), cylinder(length2(x, y), z, coil - 0.4, low + 1, high - 1, 1.5)),
    relief(x, y, z) {
      toRope(x, y, z);
      // Turns lie against each other; their strands must not bite into one another there.
      const free = smoothStep(ROPE.pitch / 2, ROPE.pitch / 2 - 1, Math.abs(hit.up));
      return strandRelief(Math.atan2(hit.up, hit.out), hit.along) * free;
    },
  };
}

/** The end, which hangs down into the water. */
export function makeRopeEnd(): Part {
  const { radius, coil, startAngle } = ROPE;
  const place = (turn: number, z: number, out: number, r: number) => {
    const angle = startAngle + turn;
    return [(coil + out) * Math.cos(angle), (coil + out) * Math.sin(angle), z, r] as const;
  };
  const chain = makeChain(
    [
      place(0.4, 18.1, 0, radius),
      place(0.14, 17.4, 0.2, radius),
      place(-0.07, 14.6, 0.2, radius),
      place(-0.12, 9, 0.1, radius),
      place(-0.1, 4, 0.1, radius * 0.9),
    ],
    8,
  );
  return {
    box: chain.box,
    blendMm: 0.6,
    distance: (x, y, z) => chain.distance(x, y, z),
    relief(x, y, z) {
      chain.distance(x, y, z);
      const outward = (chain.offset[0] * x + chain.offset[1] * y) / length2(x, y);
      const sideways = (chain.offset[1] * x - chain.offset[0] * y) / length2(x, y);
      return strandRelief(Math.atan2(sideways, outward), chain.at) * smoothStep(0, 3, chain.at);
    },
  };
}
