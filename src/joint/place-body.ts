import type { PlaneFrame } from '../math/plane.ts';
import { add, cross, scale, type Vec3 } from '../math/vec3.ts';
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
