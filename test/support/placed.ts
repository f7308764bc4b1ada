import { normalize, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';

/** A right-handed frame whose third axis goes along a direction. */
export function axesAlong(direction: Vec3): [u: Vec3, v: Vec3, w: Vec3] {
  const w = normalize(direction);
  const u = normalize(Math.abs(w[0]) < 0.9 ? [0, w[2], -w[1]] : [-w[2], 0, w[0]]);
  return [u, [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]], w];
}

/** A mesh turned so that its z goes along a direction, and moved. */
export function placed(mesh: Mesh, axis: Vec3, by: Vec3): Mesh {
  const [u, v, w] = axesAlong(axis);
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = mesh.positions.subarray(i, i + 3);
    for (let k = 0; k < 3; k++) positions[i + k] = x * u[k] + y * v[k] + z * w[k] + by[k];
  }
  // What is known of triangles goes by their array.
  return { positions, triangles: mesh.triangles.slice() };
}
