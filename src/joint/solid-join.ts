import type { Kernel } from '../kernel/load.ts';
import { type KernelJoint, kernelJoin } from '../kernel/solid.ts';
import type { PlaneFrame } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, scale, sub, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part.ts';
import { putBack, takeCollar } from './collar.ts';
import { closedBody, type Joint } from './joint.ts';

/**
 * Joins pegs or sockets of one seam to a part by the kernel's boolean: part ∪ pegs − sockets. It works on the
 * collar behind the seam face where that can be taken off and put back, else on the whole part; the result
 * says which. `which` is the part's side of the seam plane.
 * @throws PegwrightError `kernel-refused` or `kernel-lost`.
 */
export function solidJoin(
  kernel: Kernel,
  part: Part,
  frame: PlaneFrame,
  which: 'front' | 'back',
  joints: readonly Joint[],
): { way: 'collar' | 'kernel'; part: Part } {
  const bodies = joints.map(
    (joint): KernelJoint => ({ of: joint.of, body: closedBody(joint, depthOf(joint)) }),
  );
  const inward = which === 'front' ? frame.n : scale(frame.n, -1);
  const reach = Math.max(...bodies.map(({ body }) => reachOf(body.positions, inward, frame.origin)));
  const collar = takeCollar(part, frame, inward, reach);
  const joined = collar && putBack(part, collar, kernelJoin(kernel, collar.part, bodies));
  return joined ? { way: 'collar', part: joined } : { way: 'kernel', part: kernelJoin(kernel, part, bodies) };
}

const depthOf = ({ of }: Joint): number => (of.role === 'peg' ? TOLERANCES.pegRoot : TOLERANCES.root);

/** How far along `inward` from `origin` a body reaches, mm. */
function reachOf(positions: Float32Array, inward: Vec3, origin: Vec3): number {
  let reach = 0;
  for (let i = 0; i < positions.length; i += 3) {
    reach = Math.max(reach, dot(inward, sub([positions[i], positions[i + 1], positions[i + 2]], origin)));
  }
  return reach;
}
