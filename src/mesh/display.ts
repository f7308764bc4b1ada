import type { Mesh } from './mesh.ts';

/** A mesh ready for a screen: one unit normal per vertex. */
export interface DisplayMesh extends Mesh {
  normals: Float32Array;
}

/** Area-weighted vertex normals: soft shading for a sculpted skin. */
export function smoothDisplay(mesh: Mesh): DisplayMesh {
  const { positions: p, triangles: t } = mesh;
  const normals = new Float32Array(p.length);
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i]! * 3;
    const b = t[i + 1]! * 3;
    const c = t[i + 2]! * 3;
    const ux = p[b]! - p[a]!;
    const uy = p[b + 1]! - p[a + 1]!;
    const uz = p[b + 2]! - p[a + 2]!;
    const vx = p[c]! - p[a]!;
    const vy = p[c + 1]! - p[a + 1]!;
    const vz = p[c + 2]! - p[a + 2]!;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (const at of [a, b, c]) {
      normals[at] = normals[at]! + nx;
      normals[at + 1] = normals[at + 1]! + ny;
      normals[at + 2] = normals[at + 2]! + nz;
    }
  }
  normalizeAll(normals);
  return { positions: p, triangles: t, normals };
}

function normalizeAll(n: Float32Array): void {
  for (let i = 0; i < n.length; i += 3) {
    const l = Math.hypot(n[i]!, n[i + 1]!, n[i + 2]!) || 1;
    n[i] = n[i]! / l;
    n[i + 1] = n[i + 1]! / l;
    n[i + 2] = n[i + 2]! / l;
  }
}
