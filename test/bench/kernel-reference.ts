import type { Manifold } from 'manifold-3d';
import { jointKind } from '../../src/joint/kinds.ts';
import { closedBody, makePiece } from '../../src/joint/piece.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import { fromFrame, plane, planeFrame, toFrame } from '../../src/math/plane.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Seam } from '../../src/model/job.ts';
import type { SeatedJoint } from '../../src/pipeline/settled.ts';
import { planeOf } from '../support/plane-of.ts';
import { pegOf } from '../support/seam-fixture.ts';

/** The same work done by the raw kernel, step by step: what every figure is compared with. */

/** A solid from triangles without shared corners, as an STL holds them: merge, then construct. */
export function kernelOpen(kernel: Kernel, corners: Float32Array): Manifold {
  const triVerts = Uint32Array.from({ length: corners.length / 3 }, (_, i) => i);
  const mesh = new kernel.Mesh({ numProp: 3, vertProperties: corners, triVerts });
  mesh.merge();
  return settled(new kernel.Manifold(mesh));
}

export function kernelSolid(kernel: Kernel, { positions, triangles }: Mesh): Manifold {
  return settled(
    new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles })),
  );
}

/** Closed bodies of all that joints add to parts, or take from them. */
export const bodiesOf = (joints: readonly SeatedJoint[], does: 'add' | 'take'): Mesh[] =>
  joints
    .flatMap(({ pieces }) => pieces.filter(({ piece }) => piece.of.does === does))
    .map(({ piece }) => closedBody(piece, 1));

/** Booleans are lazy: asking for the count makes them happen. */
function settled(solid: Manifold): Manifold {
  solid.numTri();
  return solid;
}

/** Both halves, computed. */
export function kernelSplit(
  whole: Manifold,
  normal: readonly [number, number, number],
  offset: number,
): [front: Manifold, back: Manifold] {
  const [front, back] = whole.splitByPlane([...normal], offset);
  return [settled(front), settled(back)];
}

/** Union and difference with read-out, on halves already cut. */
export function kernelJoin(
  kernel: Kernel,
  front: Manifold,
  back: Manifold,
  pegs: readonly Manifold[],
  sockets: readonly Manifold[],
): Mesh[] {
  const pegged = kernel.Manifold.union([back, ...pegs]);
  const socketed = kernel.Manifold.difference([front, ...sockets]);
  const meshes = [pegged, socketed].map((solid): Mesh => {
    const { vertProperties, triVerts } = solid.getMesh();
    return { positions: vertProperties, triangles: triVerts };
  });
  pegged.delete();
  socketed.delete();
  return meshes;
}

/** The corners of a binary STL, three a triangle, unshared. */
export function looseCorners(bytes: Uint8Array): Float32Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const count = view.getUint32(80, true);
  const corners = new Float32Array(count * 9);
  for (let t = 0; t < count; t++) {
    for (let k = 0; k < 9; k++) corners[t * 9 + k] = view.getFloat32(84 + t * 50 + 12 + k * 4, true);
  }
  return corners;
}

/** The bodies of what a seam's joints, all of which have a place, add or take. */
export function bodiesOfPegs(kernel: Kernel, seam: Seam, does: 'add' | 'take'): Manifold[] {
  const held = planeOf(seam);
  const frame = planeFrame(plane(held.normal, held.offsetMm));
  return seam.joints.flatMap((joint) => {
    if (joint.at === 'auto') throw new Error('a peg is to be placed');
    const foot = fromFrame(frame, toFrame(frame, joint.at));
    const { id: jointId, spinDeg = 0 } = joint;
    const seat = { seamId: seam.id, jointId, facet: 0, pegOn: seam.pegOn, frame, foot, spinDeg };
    const sizes = pegOf({ ...joint, at: joint.at } as Parameters<typeof pegOf>[0]);
    const pieces = jointKind(sizes.kind).pieces(sizes);
    return pieces
      .filter((piece) => piece.does === does)
      .map((piece) => kernelSolid(kernel, closedBody(makePiece(seat, piece), 1)));
  });
}
