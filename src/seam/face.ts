import type { PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vertices } from '../mesh/part/vertices.ts';
import { chainRings, pointsIn, type Ring } from '../mesh/plane/outline.ts';
import { PairTable } from '../mesh/topology/pair-table.ts';

/** A seam's face in one part: its outline, as vertex rings of the part and as loops in the seam's frame. */
export interface Face {
  rings: Ring[];
  /** Flat x, y pairs, mm; counter-clockwise around material seen from the front, whichever side the part is on. */
  loops: Loop[];
}

/** Reads the outline off a face's triangles: the edges only one of them has. */
export function faceOf(
  vertices: Vertices,
  triangles: Uint32Array,
  frame: PlaneFrame,
  which: 'front' | 'back',
): Face {
  const open = openEdges(triangles);
  if (which === 'front') open.reverse(); // the front part's face looks backward
  const rings = chainRings(open, vertices, frame);
  return { rings, loops: rings.map((ring) => pointsIn(frame, vertices, ring)) };
}

/** Directed edges (two ids each) that no triangle walks the other way. */
export function openEdges(triangles: Uint32Array): Uint32Array {
  const pairs = new PairTable(triangles.length);
  const met = new Uint8Array(triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    const a = triangles[i];
    const b = triangles[i % 3 === 2 ? i - 2 : i + 1];
    const mate = pairs.find(b, a);
    if (mate >= 0 && met[mate] === 1) met[mate] = 0;
    else met[pairs.number(a, b)] = 1;
  }
  const open = new Uint32Array(pairs.count * 2);
  let used = 0;
  for (let pair = 0; pair < pairs.count; pair++) {
    if (met[pair] === 0) continue;
    open[used++] = pairs.first(pair);
    open[used++] = pairs.second(pair);
  }
  return open.slice(0, used);
}
