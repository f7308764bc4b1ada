import type { Mesh } from './mesh.ts';
import { compactMesh, usesMost } from './part/part.ts';
import { allPositions, type Vertices } from './part/vertices.ts';

/** A mesh ready for a screen: one unit normal per vertex. */
export interface DisplayMesh extends Mesh {
  normals: Float32Array;
}

/** Area-weighted vertex normals: soft shading for a sculpted skin. The mesh's arrays are in the result. */
export function smoothDisplay({ positions, triangles }: Mesh): DisplayMesh {
  const normals = new Float32Array(positions.length);
  addNormals(positions, triangles, normals);
  normalizeAll(normals);
  return { positions, triangles, normals };
}

/**
 * The same for a skin in several runs, shaded as one; all arrays are copies. Runs that are not wanted are null.
 * What is found of the first of several, which may be large and stay from edit to edit, is kept as long as its
 * triangles are.
 */
export function smoothRuns(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  isWanted: (run: number) => boolean,
): (DisplayMesh | null)[] {
  const positions = allPositions(vertices);
  const sums = new Float32Array(positions.length);
  runs.forEach((triangles, run) => {
    const sum = run === 0 && runs.length > 1 ? keptNormals(vertices, triangles) : null;
    if (sum) sums.set(sum);
    else addNormals(positions, triangles, sums);
  });
  return runs.map((triangles, run) => {
    if (!isWanted(run)) return null;
    if (usesMost(vertices, triangles)) {
      const normals = sums.slice(0, vertices.positions.length);
      normalizeAll(normals);
      return { positions: vertices.positions.slice(), triangles: triangles.slice(), normals };
    }
    const { ids, ...mesh } = compactMesh({ positions: vertices.positions, triangles }, vertices.added);
    const normals = gather(sums, ids);
    normalizeAll(normals);
    return { ...mesh, normals };
  });
}

const kept = new WeakMap<Uint32Array, Float32Array>();

/** Null for triangles that use few of the vertices. */
function keptNormals(vertices: Vertices, triangles: Uint32Array): Float32Array | null {
  const known = kept.get(triangles);
  if (known) return known;
  if (!usesMost(vertices, triangles)) return null;
  const sums = new Float32Array(vertices.positions.length);
  addNormals(vertices.positions, triangles, sums);
  kept.set(triangles, sums);
  return sums;
}

function gather(sums: Float32Array, ids: Uint32Array): Float32Array {
  const gathered = new Float32Array(ids.length * 3);
  for (let i = 0; i < ids.length; i++) gathered.set(sums.subarray(ids[i]! * 3, ids[i]! * 3 + 3), i * 3);
  return gathered;
}

/** Adds each triangle's normal, twice its area long, to those of its corners. */
function addNormals(p: Float32Array, t: Uint32Array, normals: Float32Array): void {
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
}

function normalizeAll(n: Float32Array): void {
  for (let i = 0; i < n.length; i += 3) {
    const l = Math.hypot(n[i]!, n[i + 1]!, n[i + 2]!) || 1;
    n[i] = n[i]! / l;
    n[i + 1] = n[i + 1]! / l;
    n[i + 2] = n[i + 2]! / l;
  }
}
