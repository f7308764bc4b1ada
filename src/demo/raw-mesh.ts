/** A mesh while it is being made: as `Mesh`, with positions in double precision. */
export interface RawMesh {
  positions: Float64Array;
  triangles: Uint32Array;
}

/** Area-weighted unit normals, three numbers a vertex. */
export function vertexNormals(mesh: RawMesh): Float32Array {
  const { positions: p, triangles: t } = mesh;
  const n = new Float32Array(p.length);
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    n[a] += nx;
    n[a + 1] += ny;
    n[a + 2] += nz;
    n[b] += nx;
    n[b + 1] += ny;
    n[b + 2] += nz;
    n[c] += nx;
    n[c + 1] += ny;
    n[c + 2] += nz;
  }
  for (let i = 0; i < n.length; i += 3) {
    const l = Math.sqrt(n[i] * n[i] + n[i + 1] * n[i + 1] + n[i + 2] * n[i + 2]) || 1;
    n[i] /= l;
    n[i + 1] /= l;
    n[i + 2] /= l;
  }
  return n;
}

/** One mesh holding all of several, shell after shell. */
export function joinMeshes(meshes: readonly RawMesh[]): RawMesh {
  const positions = new Float64Array(meshes.reduce((n, m) => n + m.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((n, m) => n + m.triangles.length, 0));
  let p = 0;
  let t = 0;
  for (const mesh of meshes) {
    positions.set(mesh.positions, p);
    for (let i = 0; i < mesh.triangles.length; i++) triangles[t + i] = mesh.triangles[i] + p / 3;
    p += mesh.positions.length;
    t += mesh.triangles.length;
  }
  return { positions, triangles };
}
