import type { Plane } from '../math/plane.ts';
import { float32Step, TOLERANCES } from '../math/tolerances.ts';
import { coordinate, type Vertices, vertexCount } from './vertices.ts';

const snapOf = new WeakMap<Float32Array, number>();

/** Vertices nearer to a plane than this lie on it, mm: a few steps of single precision at the figure's size. */
export function snapDistance({ positions }: Vertices): number {
  const known = snapOf.get(positions);
  if (known !== undefined) return known;
  let largest = 0;
  for (let i = 0; i < positions.length; i++) {
    const magnitude = Math.abs(positions[i]);
    if (magnitude > largest) largest = magnitude;
  }
  const snap = TOLERANCES.snapUlps * float32Step(largest);
  snapOf.set(positions, snap);
  return snap;
}

/** Which side of the plane each vertex is on: 1 in front, −1 behind, 0 on it. */
export function sidesOf(vertices: Vertices, plane: Plane): Int8Array {
  const side = new Int8Array(vertexCount(vertices));
  const snap = snapDistance(vertices);
  for (let v = 0; v < side.length; v++) side[v] = sideOf(vertices, v, plane, snap);
  return side;
}

/** The side of one vertex; one nearer to the plane than `snap` (mm) is on it. */
export function sideOf(vertices: Vertices, v: number, { normal, offset }: Plane, snap: number): number {
  const d =
    normal[0] * coordinate(vertices, v, 0) +
    normal[1] * coordinate(vertices, v, 1) +
    normal[2] * coordinate(vertices, v, 2) -
    offset;
  return d > snap ? 1 : d < -snap ? -1 : 0;
}
