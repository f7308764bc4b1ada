import type { Mesh } from '../mesh/mesh.ts';

/** Side of the cubes whose order the triangles follow, mm. */
const CUBE_MM = 1.5;

/**
 * The same triangles in an order that packs well: sorted along a space-filling walk, each started at
 * its lowest corner, and the vertices numbered as the triangles first meet them, so that numbers near
 * each other in the file are near each other in value.
 */
export function orderForPacking(mesh: Mesh): Mesh {
  const { positions: p, triangles: t } = mesh;
  const keys = new Float64Array(t.length / 3);
  for (let i = 0; i < keys.length; i++) {
    const cube = [0, 1, 2].map((k) => Math.floor((p[t[i * 3] * 3 + k] + 512) / CUBE_MM));
    keys[i] = interleave(cube[0], cube[1], cube[2]);
  }
  const order = Uint32Array.from(keys, (_, i) => i).sort((a, b) => keys[a] - keys[b] || a - b);
  const numbers = new Int32Array(p.length / 3).fill(-1);
  const positions = new Float32Array(p.length);
  const triangles = new Uint32Array(t.length);
  let count = 0;
  order.forEach((from, i) => {
    for (let k = 0; k < 3; k++) {
      const v = t[from * 3 + k];
      if (numbers[v] < 0) {
        positions.set(p.subarray(v * 3, v * 3 + 3), count * 3);
        numbers[v] = count++;
      }
      triangles[i * 3 + k] = numbers[v];
    }
  });
  return { positions, triangles };
}

/** Bits of three numbers below 1024 taken in turn. */
function interleave(x: number, y: number, z: number): number {
  let key = 0;
  for (let bit = 9; bit >= 0; bit--) {
    key = key * 8 + (((z >> bit) & 1) * 4 + ((y >> bit) & 1) * 2 + ((x >> bit) & 1));
  }
  return key;
}
