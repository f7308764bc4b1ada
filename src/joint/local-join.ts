import type { Kernel } from '../kernel/load.ts';
import type { Loop } from '../math/polygon.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { type FacetOf, isOfFacet, type Part, type Patch } from '../mesh/part/part.ts';
import { vertexCount, withVertices } from '../mesh/part/vertices.ts';
import { capTriangles } from '../seam/cap.ts';
import type { Face } from '../seam/face.ts';
import type { Piece } from './piece.ts';

/**
 * Joins pieces of joints to a part by changing its face on a seam's facet alone: the face is
 * triangulated again around the joints' rims and their surfaces are joined on.
 * Exact when every joint is local (see `host.ts`); nothing but the face is touched.
 */
export function localJoin(
  kernel: Kernel,
  part: Part,
  { seamId, facet }: Pick<FacetOf, 'seamId' | 'facet'>,
  which: 'front' | 'back',
  face: Face,
  pieces: readonly Piece[],
): Part {
  if (pieces.length === 0) return part;
  const firstRim = vertexCount(part);
  const loops: Loop[] = [...face.loops, ...pieces.map(({ rim }) => reverseLoop(rim))];
  let next = firstRim;
  const rims = pieces.map((piece) => {
    const ids = rimIds(piece, next);
    next += piece.surface.positions.length / 3;
    return ids;
  });
  const ids = joinIndices([...face.rings, ...rims]);
  const cap = capTriangles(kernel, loops);
  for (let i = 0; i < cap.length; i++) cap[i] = ids[cap[i]];
  if (which === 'front') cap.reverse();
  return {
    ...withVertices(part, joinPositions(pieces)),
    patches: [
      ...part.patches.map((patch) =>
        isOfFacet(patch.of, seamId, facet) ? { ...patch, triangles: cap } : patch,
      ),
      ...jointPatches(pieces, firstRim),
    ],
  };
}

/** Vertex ids of a rim in the order of its reversed loop. */
function rimIds({ rimCount, from }: Piece, first: number): Uint32Array {
  const along = Uint32Array.from({ length: rimCount }, (_, i) => first + i);
  return from === 'back' ? along.reverse() : along;
}

function reverseLoop(loop: Loop): Loop {
  const reversed = new Float64Array(loop.length);
  for (let i = 0; i < loop.length; i += 2) {
    reversed[i] = loop[loop.length - 2 - i];
    reversed[i + 1] = loop[loop.length - 1 - i];
  }
  return reversed;
}

function joinPositions(pieces: readonly Piece[]): Float32Array {
  const joined = new Float32Array(pieces.reduce((n, { surface }) => n + surface.positions.length, 0));
  let at = 0;
  for (const { surface } of pieces) {
    joined.set(surface.positions, at);
    at += surface.positions.length;
  }
  return joined;
}

/** What is added looks out of its body, what is taken into it. */
function jointPatches(pieces: readonly Piece[], firstRim: number): Patch[] {
  let first = firstRim;
  return pieces.map(({ of, surface }) => {
    const triangles = surface.triangles.map((id) => id + first);
    if (of.does === 'take') triangles.reverse();
    first += surface.positions.length / 3;
    return { of, triangles };
  });
}
