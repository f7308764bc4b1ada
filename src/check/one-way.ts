import { type Loop, polygonMoments, windingAt } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import { turnsOnto as turnsOfOutline } from './outline-turns.ts';

/** A joint on a seam face, as far as going into sockets goes: mm and degrees in the seam's frame. */
export interface StandingJoint {
  at: Vec2;
  spinDeg: number;
  /** Turns by which one of its kind may come to lie in another, degrees; by its outline where every joint has its own. */
  turnsDeg: readonly number[] | 'any' | 'by-outline';
  /** What is added and what is taken: simple, counter-clockwise. */
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
      const motion = bringing(first, socket, turnDeg);
      if (isAtRest(motion, joints) || !canTurn(turnDeg)) return true;
      const isSway = socket === first && Math.abs(shortWay(turnDeg)) <= MOST_SWAY_DEG;
      if (isSway && doEnter(joints, bringing(first, first, shortWay(turnDeg) / 2))) return true;
      return !doEnter(joints, motion);
    }),
  );
}

/** A turn no greater than this is but play where half of it goes in as well: what turns freely does so by more. */
const MOST_SWAY_DEG = 20;

/** A turn by the lesser angle, degrees. */
const shortWay = (deg: number): number => deg - 360 * Math.round(deg / 360);

/** The motion that turns all and brings one peg into the place of another. */
function bringing(peg: StandingJoint, to: StandingJoint, turnDeg: number): Motion {
  const [x, y] = turned(middleOf(peg), turnDeg);
  const [toX, toY] = middleOf(to);
  return { turnDeg, shift: [toX - x, toY - y] };
}

const doEnter = (joints: readonly StandingJoint[], motion: Motion): boolean =>
  joints.every((peg) => joints.some((socket) => enters(peg, socket, motion)));

/** What pegs are turned about and brought onto each other by: an outline of a person's own may lie beside its axis. */
const middleOf = ({ peg, at }: StandingJoint): Vec2 => (peg.length > 0 ? polygonMoments([peg]).centroid : at);

/** Turns with which the first peg, brought onto a socket, may go in. */
function turnsOnto(
  first: StandingJoint,
  second: StandingJoint | undefined,
  socket: StandingJoint,
  joints: readonly StandingJoint[],
): number[] {
  const slack = 2 * Math.max(...joints.map(({ sideGapMm }) => sideGapMm)) + 1e-9;
  const own = [first, socket].flatMap(({ turnsDeg }) => {
    if (turnsDeg === 'any') return [];
    if (turnsDeg === 'by-outline') return turnsOfOutline(first.peg, socket.peg, slack);
    return turnsDeg.map((turn) => socket.spinDeg - first.spinDeg + turn);
  });
  if (second === undefined) return own;
  const [middle, onto] = [middleOf(first), middleOf(socket)];
  const [dx, dy] = [middleOf(second)[0] - middle[0], middleOf(second)[1] - middle[1]];
  const led = joints.flatMap((other) => {
    const [ex, ey] = [middleOf(other)[0] - onto[0], middleOf(other)[1] - onto[1]];
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
function enters({ peg }: StandingJoint, { socket }: StandingJoint, motion: Motion): boolean {
  const moved = movedBy(motion, peg);
  for (let i = 0; i < moved.length; i += 2) if (!isWithin(socket, moved[i], moved[i + 1])) return false;
  // Where the socket lies in, a side may leave it between two corners that are within.
  return isConvex(socket) || !doLoopsCross(moved, socket);
}

function movedBy({ turnDeg, shift }: Motion, loop: Loop): Loop {
  const [c, s] = turned([1, 0], turnDeg);
  const moved = new Float64Array(loop.length);
  for (let i = 0; i < loop.length; i += 2) {
    moved[i] = c * loop[i] - s * loop[i + 1] + shift[0];
    moved[i + 1] = s * loop[i] + c * loop[i + 1] + shift[1];
  }
  return moved;
}

/** Rounding that may leave a point of an equal outline outside, mm. */
const ON_EDGE = 1e-6;

function isWithin(loop: Loop, x: number, y: number): boolean {
  if (windingAt([loop], x, y) > 0) return true;
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    const [ax, ay] = [loop[j], loop[j + 1]];
    const [dx, dy] = [loop[i] - ax, loop[i + 1] - ay];
    const share = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
    if (Math.hypot(x - ax - share * dx, y - ay - share * dy) <= ON_EDGE) return true;
  }
  return false;
}

/** True where an outline turns one way all along. */
function isConvex(loop: Loop): boolean {
  const n = loop.length;
  for (let i = 0; i < n; i += 2) {
    const [j, k] = [(i + 2) % n, (i + 4) % n];
    const [ux, uy] = [loop[j] - loop[i], loop[j + 1] - loop[i + 1]];
    const [vx, vy] = [loop[k] - loop[j], loop[k + 1] - loop[j + 1]];
    if (ux * vy - uy * vx < -ON_EDGE * Math.hypot(ux, uy)) return false;
  }
  return true;
}

/** True where a side of one outline and one of the other each have their ends on both sides of the other, by more than rounding. */
function doLoopsCross(a: Loop, b: Loop): boolean {
  for (let i = 0, h = a.length - 2; i < a.length; h = i, i += 2)
    for (let k = 0, j = b.length - 2; k < b.length; j = k, k += 2)
      if (parts(a, h, i, b, j, k) && parts(b, j, k, a, h, i)) return true;
  return false;
}

/** True where the ends of a side of `other` (from `j` to `k`) lie on both sides of one of `loop` (from `h` to `i`). */
function parts(loop: Loop, h: number, i: number, other: Loop, j: number, k: number): boolean {
  const [dx, dy] = [loop[i] - loop[h], loop[i + 1] - loop[h + 1]];
  const slack = ON_EDGE * Math.hypot(dx, dy);
  const p = dx * (other[j + 1] - loop[h + 1]) - dy * (other[j] - loop[h]);
  const q = dx * (other[k + 1] - loop[h + 1]) - dy * (other[k] - loop[h]);
  return Math.min(p, q) < -slack && Math.max(p, q) > slack;
}
