import type { Kernels } from '../kernel/kernels.ts';
import type { Kernel } from '../kernel/load.ts';
import { type KernelJoint, kernelJoin } from '../kernel/solid.ts';
import type { Plane, PlaneFrame } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, scale, sub, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import { putBack, takeCollar } from '../seam/collar.ts';
import { closedBody, lowestOf, type Piece } from './piece.ts';

/** Beyond the joints a collar reaches this much farther, mm, so that its lid stays clear of them. */
const CLEARANCE = 0.5;

/**
 * Planes in front of the joints lie a whole number of these from the seam's frame, mm: while a peg moves, rounding
 * does not move the plane behind which all of it stays. No round size ends halfway between two of them.
 */
const STEP = 1 / 8;

/**
 * Joins pieces of a seam's joints to a part by the kernel's boolean: part ∪ what is added − what is taken. It works on what lies
 * about the joints where that can be taken off and put back, else on the whole part; the result says which.
 * `which` is the part's side of the seam plane.
 * @throws PegwrightError `kernel-refused` or `kernel-lost`.
 */
export async function solidJoin(
  kernels: Kernels,
  part: Part,
  frame: PlaneFrame,
  which: 'front' | 'back',
  pieces: readonly Piece[],
): Promise<{ way: 'collar' | 'kernel'; part: Part }> {
  const bodies = pieces.map(
    (piece): KernelJoint => ({ of: piece.of, body: closedBody(piece, depthOf(piece) - lowestOf(piece)) }),
  );
  const joined = joinCollar(kernels.here, part, bodies, planesAround(bodies, frame, which));
  return joined
    ? { way: 'collar', part: joined }
    : { way: 'kernel', part: await kernels.joinWhole(part, bodies) };
}

/** The piece with the joints in it, worked in a collar of a collar behind all the planes that take one off; null where none does. */
function joinCollar(
  kernel: Kernel,
  piece: Part,
  bodies: readonly KernelJoint[],
  planes: readonly Plane[],
): Part | null {
  for (const [i, plane] of planes.entries()) {
    const collar = takeCollar(piece, plane);
    if (!collar) continue;
    const worked =
      joinCollar(kernel, collar.part, bodies, planes.slice(i + 1)) ?? kernelJoin(kernel, collar.part, bodies);
    const joined = putBack(piece, collar, worked);
    if (joined) return joined;
  }
  return null;
}

const depthOf = ({ of }: Piece): number => (of.does === 'add' ? TOLERANCES.pegRoot : TOLERANCES.root);

/** Planes that have all bodies behind them: deep in the part first, for it spares the most, then about their sides. */
function planesAround(
  bodies: readonly KernelJoint[],
  { origin, u, v, n }: PlaneFrame,
  which: 'front' | 'back',
): Plane[] {
  const inward = which === 'front' ? n : scale(n, -1);
  return [inward, u, scale(u, -1), v, scale(v, -1)].map((normal) => {
    const reach = Math.max(...bodies.map(({ body }) => reachOf(body.positions, normal, origin)));
    const height = Math.round((reach + CLEARANCE) / STEP) * STEP;
    return { normal, offset: dot(normal, origin) + height };
  });
}

/** How far along a direction from `origin` a body reaches, mm; less than nothing where it does not. */
function reachOf(positions: Float32Array, along: Vec3, origin: Vec3): number {
  let reach = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < positions.length; i += 3) {
    reach = Math.max(reach, dot(along, sub([positions[i], positions[i + 1], positions[i + 2]], origin)));
  }
  return reach;
}
