import type { Kernel } from '../kernel/load.ts';
import type { Loop } from '../math/polygon.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import type { Part, Patch } from '../mesh/part/part.ts';
import { vertexCount, withVertices } from '../mesh/part/vertices.ts';
import { capTriangles } from '../seam/cap.ts';
import type { Face } from '../seam/face.ts';
import type { Joint } from './joint.ts';

/**
 * Joins pegs or sockets to a part by changing its seam face alone: the face is
 * triangulated again around the joints' rims and their surfaces are joined on.
 * Exact when every joint is local (see `host.ts`); nothing but the face is touched.
 */
export function localJoin(
  kernel: Kernel,
  part: Part,
  seamId: string,
  which: 'front' | 'back',
  face: Face,
  joints: readonly Joint[],
): Part {
  if (joints.length === 0) return part;
  const firstRim = vertexCount(part);
  const loops: Loop[] = [...face.loops, ...joints.map(({ rim }) => reverseLoop(rim))];
  let next = firstRim;
  const rims = joints.map((joint) => {
    const ids = rimIds(joint, next, joint.of.role === 'peg' ? which : opposite(which));
    next += joint.surface.positions.length / 3;
    return ids;
  });
  const ids = joinIndices([...face.rings, ...rims]);
  const cap = capTriangles(kernel, loops);
  for (let i = 0; i < cap.length; i++) cap[i] = ids[cap[i]];
  if (which === 'front') cap.reverse();
  const isFace = ({ of }: Patch) => of.kind === 'face' && of.seamId === seamId;
  return {
    ...withVertices(part, joinPositions(joints)),
    patches: [
      ...part.patches.map((patch) => (isFace(patch) ? { ...patch, triangles: cap } : patch)),
      ...jointPatches(joints, firstRim),
    ],
  };
}

const opposite = (which: 'front' | 'back') => (which === 'front' ? 'back' : 'front');

/** Vertex ids of a rim in the order of its reversed loop. `pegOn` is the side the peg is on. */
function rimIds(joint: Joint, first: number, pegOn: 'front' | 'back'): Uint32Array {
  const along = Uint32Array.from({ length: joint.rimCount }, (_, i) => first + i);
  return pegOn === 'back' ? along.reverse() : along;
}

function reverseLoop(loop: Loop): Loop {
  const reversed = new Float64Array(loop.length);
  for (let i = 0; i < loop.length; i += 2) {
    reversed[i] = loop[loop.length - 2 - i];
    reversed[i + 1] = loop[loop.length - 1 - i];
  }
  return reversed;
}

function joinPositions(joints: readonly Joint[]): Float32Array {
  const joined = new Float32Array(joints.reduce((n, { surface }) => n + surface.positions.length, 0));
  let at = 0;
  for (const { surface } of joints) {
    joined.set(surface.positions, at);
    at += surface.positions.length;
  }
  return joined;
}

/** A peg looks out of its body, a socket into it. */
function jointPatches(joints: readonly Joint[], firstRim: number): Patch[] {
  let first = firstRim;
  return joints.map(({ of, surface }) => {
    const triangles = surface.triangles.map((id) => id + first);
    if (of.role === 'socket') triangles.reverse();
    first += surface.positions.length / 3;
    return { of, triangles };
  });
}
