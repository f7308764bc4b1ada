import type { Mesh } from '../../mesh/mesh.ts';

/** Marks a vertex no triangle has used yet. */
const UNUSED = 0xffffffff;

/** The mesh without the triangles whose entry in `drop` is not 0, and without the vertices that leaves unused. */
export function dropTriangles(mesh: Mesh, drop: Uint8Array): Mesh {
  const { triangles: t } = mesh;
  let kept = 0;
  for (let i = 0; i < drop.length; i++) if (drop[i] === 0) kept++;
  const triangles = new Uint32Array(kept * 3);
  for (let i = 0, at = 0; i < t.length; i += 3) {
    if (drop[i / 3] !== 0) continue;
    triangles[at++] = t[i];
    triangles[at++] = t[i + 1];
    triangles[at++] = t[i + 2];
  }
  return withoutUnused(mesh.positions, triangles);
}

/** The triangles over only the vertices they use, in order of first use. Vertices at one place stay apart. */
export function withoutUnused(positions: Float32Array, triangles: Uint32Array): Mesh {
  let [low, high] = [positions.length / 3, 0];
  for (let i = 0; i < triangles.length; i++) {
    if (triangles[i] < low) low = triangles[i];
    if (triangles[i] >= high) high = triangles[i] + 1;
  }
  // Only the run of vertices in use is gone through, so that taking many small bodies out of one mesh is quick.
  const newId = new Uint32Array(Math.max(0, high - low)).fill(UNUSED);
  const ids = new Uint32Array(triangles.length);
  let used = 0;
  for (let i = 0; i < triangles.length; i++) {
    const v = triangles[i] - low;
    if (newId[v] === UNUSED) newId[v] = used++;
    ids[i] = newId[v];
  }
  const kept = new Float32Array(used * 3);
  for (let v = 0; v < newId.length; v++) {
    if (newId[v] === UNUSED) continue;
    const to = newId[v] * 3;
    const from = (v + low) * 3;
    kept[to] = positions[from];
    kept[to + 1] = positions[from + 1];
    kept[to + 2] = positions[from + 2];
  }
  return { positions: kept, triangles: ids };
}
