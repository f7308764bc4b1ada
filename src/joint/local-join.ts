import type { Kernel } from '../kernel/load.ts';
import type { PlaneFrame } from '../math/plane.ts';
import { type Loop, loopArea } from '../math/polygon.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { type FacetId, isOfFacet, type Part, type Patch } from '../mesh/part/part.ts';
import { vertexCount, withVertices } from '../mesh/part/vertices.ts';
import { capTriangles } from '../seam/cap.ts';
import type { Face } from '../seam/face.ts';
import { type Piece, rimIn } from './piece.ts';

/**
 * Joins pieces of joints to a part by changing a flat face of its alone, `which` side of the seam it is on: the face is
 * triangulated again around the joints' rims and their surfaces are joined on; hollows leave it as it is. `face` is in `frame`; `rest` are triangles
 * of the same patch that are not of it, and stay.
 * Exact when every joint is local (see `host.ts`); nothing but the face is touched.
 */
export function localJoin(
  kernel: Kernel,
  part: Part,
  { seamId, facet }: FacetId,
  frame: PlaneFrame,
  which: 'front' | 'back',
  face: Face,
  pieces: readonly Piece[],
  rest?: Uint32Array,
): Part {
  if (pieces.length === 0) return part;
  const firstRim = vertexCount(part);
  let next = firstRim;
  const holes = pieces.flatMap((piece) => {
    const first = next;
    next += piece.surface.positions.length / 3;
    return piece.isHollow ? [] : [holeOf(piece, first, frame)];
  });
  const joined = withVertices(part, joinPositions(pieces));
  const surfaces = jointPatches(pieces, firstRim);
  if (holes.length === 0) return { ...joined, patches: [...part.patches, ...surfaces] };
  const loops: Loop[] = [...face.loops, ...holes.map(({ loop }) => loop)];
  const ids = joinIndices([...face.rings, ...holes.map((hole) => hole.ids)]);
  const cap = capTriangles(kernel, loops);
  for (let i = 0; i < cap.length; i++) cap[i] = ids[cap[i]];
  if (which === 'front') cap.reverse();
  return {
    ...joined,
    patches: [
      ...part.patches.flatMap((patch): Patch[] => {
        if (!isOfFacet(patch.of, seamId, facet)) return [patch];
        const filled = { ...patch, triangles: cap };
        return rest && rest.length > 0 ? [filled, { ...patch, triangles: rest }] : [filled];
      }),
      ...surfaces,
    ],
  };
}

/** What a piece leaves open in its face: its rim, clockwise in the face's frame, and the ids of the vertices along it. */
function holeOf(piece: Piece, first: number, frame: PlaneFrame): { loop: Loop; ids: Uint32Array } {
  const loop = rimIn(piece, frame);
  const ids = Uint32Array.from({ length: piece.rimCount }, (_, i) => first + i);
  return loopArea(loop) < 0 ? { loop, ids } : { loop: reverseLoop(loop), ids: ids.reverse() };
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
