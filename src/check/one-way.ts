import type { Loop } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';

/** A joint on a seam face, as far as going into sockets goes: mm and degrees in the seam's frame. */
export interface StandingJoint {
  at: Vec2;
  spinDeg: number;
  /** Turns by which one of its kind may come to lie in another, degrees. */
  turnsDeg: readonly number[] | 'any';
  /** What is added and what is taken: convex, counter-clockwise. */
  peg: Loop;
  socket: Loop;
  /** Gap between the two, per side. */
  sideGapMm: number;
}

/** A turn of the front part about an axis square to the face, and the shift that goes with it. */
interface Motion {
  turnDeg: number;
  shift: Vec2;
}

/**
 * True when the pegs enter the sockets in one position only. Every other turn and shift that could bring a peg into
 * some socket is tried: the first peg onto each socket, turned as its kind may lie in it and as brings the second peg
 * onto each other socket. It is another way in when all pegs find sockets that take them. A peg that turns freely
 * leads only where there is no other. `canTurn` tells which turns the seam's own faces allow.
 */
export function isOneWay(
  joints: readonly StandingJoint[],
  canTurn: (turnDeg: number) => boolean = () => true,
): boolean {
  const first = joints.find(({ turnsDeg }) => turnsDeg !== 'any') ?? joints[0];
  if (first === undefined || (joints.length === 1 && first.turnsDeg === 'any')) return false;
  const second = joints.find((joint) => joint !== first);
  return joints.every((socket) =>
    turnsOnto(first, second, socket, joints).every((turnDeg) => {
      const [x, y] = turned(first.at, turnDeg);
      const motion: Motion = { turnDeg, shift: [socket.at[0] - x, socket.at[1] - y] };
      if (isAtRest(motion, joints) || !canTurn(turnDeg)) return true;
      return !joints.every((peg) => joints.some((s) => enters(peg, s, motion)));
    }),
  );
}

/** Turns with which the first peg, brought onto a socket, may go in. */
function turnsOnto(
  first: StandingJoint,
  second: StandingJoint | undefined,
  socket: StandingJoint,
  joints: readonly StandingJoint[],
): number[] {
  const kinds = [first.turnsDeg, socket.turnsDeg].flatMap((turns) => (turns === 'any' ? [] : turns));
  const own = kinds.map((turn) => socket.spinDeg - first.spinDeg + turn);
  if (second === undefined) return own;
  const slack = 2 * Math.max(...joints.map(({ sideGapMm }) => sideGapMm)) + 1e-9;
  const [dx, dy] = [second.at[0] - first.at[0], second.at[1] - first.at[1]];
  const led = joints.flatMap((other) => {
    const [ex, ey] = [other.at[0] - socket.at[0], other.at[1] - socket.at[1]];
    const isAsFar = other !== socket && Math.abs(Math.hypot(ex, ey) - Math.hypot(dx, dy)) <= slack;
    return isAsFar ? [((Math.atan2(ey, ex) - Math.atan2(dy, dx)) * 180) / Math.PI] : [];
  });
  return [...own, ...led];
}

const turned = ([x, y]: Vec2, deg: number): Vec2 => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return [c * x - s * y, s * x + c * y];
};

/** The assembled position itself, to within what the gaps allow. */
function isAtRest({ turnDeg, shift }: Motion, joints: readonly StandingJoint[]): boolean {
  if (Math.abs(Math.cos((turnDeg * Math.PI) / 180) - 1) > 1e-9) return false;
  return Math.hypot(...shift) <= 2 * Math.max(...joints.map((p) => p.sideGapMm));
}

/** True when all of the moved peg's outline lies within the socket's. */
function enters({ peg }: StandingJoint, { socket, at }: StandingJoint, { turnDeg, shift }: Motion): boolean {
  const reach = Math.max(...pointsOf(socket).map(([x, y]) => Math.hypot(x - at[0], y - at[1])));
  return pointsOf(peg).every((p) => {
    const [x, y] = turned(p, turnDeg);
    const moved: Vec2 = [x + shift[0], y + shift[1]];
    return Math.hypot(moved[0] - at[0], moved[1] - at[1]) <= reach + 1e-9 && isWithin(socket, moved);
  });
}

const pointsOf = (loop: Loop): Vec2[] =>
  Array.from({ length: loop.length / 2 }, (_, i): Vec2 => [loop[i * 2], loop[i * 2 + 1]]);

/** Rounding that may leave a point of an equal outline outside, mm. */
const ON_EDGE = 1e-6;

function isWithin(convex: Loop, [x, y]: Vec2): boolean {
  for (let i = 0, j = convex.length - 2; i < convex.length; j = i, i += 2) {
    const [dx, dy] = [convex[i] - convex[j], convex[i + 1] - convex[j + 1]];
    if (dx * (y - convex[j + 1]) - dy * (x - convex[j]) < -ON_EDGE * Math.hypot(dx, dy)) return false;
  }
  return true;
}
