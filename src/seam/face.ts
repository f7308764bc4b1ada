import { type PlaneFrame, toFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import { edgeKey, edgeOfKey } from '../mesh/edges.ts';
import { chainRings, type Ring } from '../mesh/outline.ts';

/** A seam's face in one part: its outline, as vertex rings of the part and as loops in the seam's frame. */
export interface Face {
  rings: Ring[];
  /** Flat x, y pairs, mm; counter-clockwise around material seen from the front, whichever side the part is on. */
  loops: Loop[];
}

/** Reads the outline off a face's triangles: the edges only one of them has. */
export function faceOf(
  positions: Float32Array,
  triangles: Uint32Array,
  frame: PlaneFrame,
  which: 'front' | 'back',
): Face {
  const open = openEdges(triangles);
  if (which === 'front') open.reverse(); // the front part's face looks backward
  const at = (id: number) =>
    toFrame(frame, [positions[id * 3], positions[id * 3 + 1], positions[id * 3 + 2]]);
  const rings = chainRings(open, at);
  return { rings, loops: rings.map((ring) => Float64Array.from([...ring].flatMap((id) => at(id)))) };
}

/** Directed edges (two ids each) that no triangle walks the other way. */
export function openEdges(triangles: Uint32Array): Uint32Array {
  const seen = new Set<number>();
  for (let i = 0; i < triangles.length; i++) {
    const a = triangles[i];
    const b = triangles[i % 3 === 2 ? i - 2 : i + 1];
    if (!seen.delete(edgeKey(b, a))) seen.add(edgeKey(a, b));
  }
  const edges: number[] = [];
  for (const k of seen) edges.push(...edgeOfKey(k));
  return Uint32Array.from(edges);
}
