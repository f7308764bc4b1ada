import type { Vec2 } from '../math/vec3.ts';

/** A peg on a seam face, as far as fitting into sockets goes: mm in the seam's frame, degrees. */
export interface SeatedPeg {
  at: Vec2;
  widthMm: number;
  heightMm: number;
  spinDeg: number;
  /** Side gap of its socket. */
  sideGapMm: number;
}

/** A turn of the front part about an axis square to the face, and the shift that goes with it. */
interface Motion {
  turnDeg: number;
  shift: Vec2;
}

/**
 * True when the pegs enter the sockets in one position only. Every other turn and shift
 * that could bring a peg into some socket is tried: the first peg onto each socket, in each
 * of the four ways a rectangle can lie in another. It is another way in when all pegs find
 * sockets of their own that take them.
 */
export function isOneWay(pegs: readonly SeatedPeg[]): boolean {
  if (pegs.length === 0) return false;
  const [first] = pegs;
  return pegs.every((socket) =>
    [0, 90, 180, 270].every((quarter) => {
      const turnDeg = socket.spinDeg - first.spinDeg + quarter;
      const [x, y] = turned(first.at, turnDeg);
      const motion: Motion = { turnDeg, shift: [socket.at[0] - x, socket.at[1] - y] };
      return isAtRest(motion, pegs) || !pegs.every((peg) => pegs.some((s) => enters(peg, s, motion)));
    }),
  );
}

const turned = ([x, y]: Vec2, deg: number): Vec2 => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return [c * x - s * y, s * x + c * y];
};

/** The assembled position itself, to within what the gaps allow. */
function isAtRest({ turnDeg, shift }: Motion, pegs: readonly SeatedPeg[]): boolean {
  if (Math.abs(Math.cos((turnDeg * Math.PI) / 180) - 1) > 1e-9) return false;
  return Math.hypot(...shift) <= 2 * Math.max(...pegs.map((p) => p.sideGapMm));
}

/** True when the moved peg's corners all lie within the socket's outline. */
function enters(peg: SeatedPeg, socket: SeatedPeg, { turnDeg, shift }: Motion): boolean {
  const corners: Vec2[] = [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ];
  return corners.every(([sx, sy]) => {
    const [cx, cy] = turned([(sx * peg.widthMm) / 2, (sy * peg.heightMm) / 2], peg.spinDeg);
    const [mx, my] = turned([peg.at[0] + cx, peg.at[1] + cy], turnDeg);
    const d: Vec2 = [mx + shift[0] - socket.at[0], my + shift[1] - socket.at[1]];
    const [u, v] = turned(d, -socket.spinDeg);
    const slack = socket.sideGapMm + 1e-9;
    return Math.abs(u) <= socket.widthMm / 2 + slack && Math.abs(v) <= socket.heightMm / 2 + slack;
  });
}
