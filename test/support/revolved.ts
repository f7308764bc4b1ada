import type { Mesh } from '../../src/mesh/mesh.ts';

/** A closed solid of revolution about z, its radius (mm) given by height, with round sections of `around` corners. */
export function revolved(
  radiusAt: (z: number) => number,
  halfHeight: number,
  rings: number,
  around: number,
): Mesh {
  const positions: number[] = [0, 0, -halfHeight];
  for (let i = 0; i <= rings; i++) {
    const z = -halfHeight + (2 * halfHeight * i) / rings;
    for (let k = 0; k < around; k++) {
      const a = (2 * Math.PI * k) / around;
      positions.push(radiusAt(z) * Math.cos(a), radiusAt(z) * Math.sin(a), z);
    }
  }
  positions.push(0, 0, halfHeight);
  const at = (i: number, k: number) => 1 + i * around + (k % around);
  const top = positions.length / 3 - 1;
  const triangles: number[] = [];
  for (let k = 0; k < around; k++) {
    triangles.push(0, at(0, k + 1), at(0, k), top, at(rings, k), at(rings, k + 1));
    for (let i = 0; i < rings; i++) {
      triangles.push(at(i, k), at(i, k + 1), at(i + 1, k + 1), at(i, k), at(i + 1, k + 1), at(i + 1, k));
    }
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** Two balls of radius 9, 20 apart, and a neck between them that is thinnest, 3, in the middle. */
export const dumbBell = (z: number) => {
  const neck = 3 + 0.04 * z * z;
  const ball = Math.sqrt(Math.max(0, 81 - (Math.abs(z) - 10) ** 2));
  return Math.max(neck < 7 ? neck : 0, ball, 0.01);
};
