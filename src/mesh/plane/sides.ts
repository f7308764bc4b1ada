import type { Plane } from '../../math/plane.ts';
import { float32Step, TOLERANCES } from '../../math/tolerances.ts';
import type { Vertices } from '../part/vertices.ts';

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
export function sidesOf({ positions, added }: Vertices, plane: Plane): Int8Array {
  const side = new Int8Array((positions.length + added.length) / 3);
  const snap = snapDistance({ positions, added });
  fillSides(positions, plane, snap, side);
  fillSides(added, plane, snap, side.subarray(positions.length / 3));
  return side;
}

function fillSides(p: Float32Array, { normal, offset }: Plane, snap: number, side: Int8Array): void {
  const [nx, ny, nz] = normal;
  for (let i = 0, v = 0; i < p.length; i += 3, v++) {
    const height = nx * p[i] + ny * p[i + 1] + nz * p[i + 2] - offset;
    side[v] = height > snap ? 1 : height < -snap ? -1 : 0;
  }
}
