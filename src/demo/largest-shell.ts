import type { RawMesh } from './raw-mesh.ts';

/** The connected piece with the most triangles; crumbs that a coarse grid breaks off thin tips are dropped. */
export function keepLargestShell(mesh: RawMesh): RawMesh {
  const { positions, triangles } = mesh;
  const vertexCount = positions.length / 3;
  const parent = Uint32Array.from({ length: vertexCount }, (_, i) => i);
  const root = (v: number): number => {
    let r = v;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]];
      r = parent[r];
    }
    return r;
  };
  for (let i = 0; i < triangles.length; i += 3) {
    const a = root(triangles[i]);
    parent[root(triangles[i + 1])] = a;
    parent[root(triangles[i + 2])] = a;
  }
  const sizes = new Uint32Array(vertexCount);
  for (let i = 0; i < triangles.length; i += 3) sizes[root(triangles[i])]++;
  const largest = sizes.reduce((best, n, v) => (n > sizes[best] ? v : best), 0);
  if (sizes[largest] * 3 === triangles.length) return mesh;
  return restrictTo(mesh, (v) => root(v) === largest);
}

function restrictTo({ positions, triangles }: RawMesh, keeps: (vertex: number) => boolean): RawMesh {
  const renumbered = new Int32Array(positions.length / 3).fill(-1);
  const kept: number[] = [];
  for (let v = 0; v < renumbered.length; v++) if (keeps(v)) renumbered[v] = kept.push(v) - 1;
  const p = new Float64Array(kept.length * 3);
  for (let i = 0; i < kept.length; i++) p.set(positions.subarray(kept[i] * 3, kept[i] * 3 + 3), i * 3);
  return { positions: p, triangles: triangles.filter((v) => renumbered[v] >= 0).map((v) => renumbered[v]) };
}
