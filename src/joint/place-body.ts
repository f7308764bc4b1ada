import type { Plane, PlaneFrame } from '../math/plane.ts';
import { add, cross, dot, scale, type Vec3 } from '../math/vec3.ts';
import type { JointSurface } from './parallel-body.ts';

/** Where a joint stands: its foot on the seam plane and its own axes (unit, right-handed, z from root to tip). */
export interface JointFrame {
  foot: Vec3;
  x: Vec3;
  y: Vec3;
  z: Vec3;
}

/** A joint's frame: its z is the seam's normal when the back part has the peg, else the opposite. */
export function jointFrame(
  frame: PlaneFrame,
  foot: Vec3,
  spinDeg: number,
  pegOn: 'front' | 'back',
): JointFrame {
  const spin = (spinDeg * Math.PI) / 180;
  const x = add(scale(frame.u, Math.cos(spin)), scale(frame.v, Math.sin(spin)));
  const z = pegOn === 'back' ? frame.n : scale(frame.n, -1);
  return { foot, x, y: cross(z, x), z };
}

/** A surface's vertices moved into space, rounded to single precision: x, y, z per vertex, mm. */
export function placeSurface(surface: JointSurface, at: JointFrame): Float32Array {
  const placed = new Float32Array(surface.positions.length);
  const { foot, x, y, z } = at;
  for (let i = 0; i < placed.length; i += 3) {
    const a = surface.positions[i];
    const b = surface.positions[i + 1];
    const c = surface.positions[i + 2];
    for (let k = 0; k < 3; k++) placed[i + k] = foot[k] + a * x[k] + b * y[k] + c * z[k];
  }
  return placed;
}

/** Corners (nine numbers, mm) seen from a joint's own frame. */
export function intoJoint({ foot, x, y, z }: JointFrame, corners: Float64Array): Float64Array {
  const local = new Float64Array(9);
  for (let c = 0; c < 9; c += 3) {
    const dx = corners[c] - foot[0];
    const dy = corners[c + 1] - foot[1];
    const dz = corners[c + 2] - foot[2];
    local[c] = dx * x[0] + dy * x[1] + dz * x[2];
    local[c + 1] = dx * y[0] + dy * y[1] + dz * y[2];
    local[c + 2] = dx * z[0] + dy * z[1] + dz * z[2];
  }
  return local;
}

/** A plane seen from a joint's own frame. */
export const planeInJoint = ({ foot, x, y, z }: JointFrame, { normal, offset }: Plane): Plane => ({
  normal: [dot(normal, x), dot(normal, y), dot(normal, z)],
  offset: offset - dot(normal, foot),
});

/** A point of a joint's own frame in space, mm. */
export const outOfJoint = ({ foot, x, y, z }: JointFrame, p: Vec3): Vec3 =>
  add(foot, add(scale(x, p[0]), add(scale(y, p[1]), scale(z, p[2]))));
