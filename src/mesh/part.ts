import type { Mesh } from './mesh.ts';

/** What a run of a part's triangles is: the sculpt's own skin, a seam's face, or a joint's surface. */
export type PatchOf =
  | { kind: 'skin' }
  | { kind: 'face'; seamId: string }
  | { kind: 'joint'; seamId: string; pegIndex: number; role: 'peg' | 'socket' };

/** Triangles (vertex index triples) that belong together. */
export interface Patch {
  of: PatchOf;
  triangles: Uint32Array;
}

/**
 * A closed solid whose triangles know what they are. All patches index the one
 * vertex array. Parts are values: an edit makes a new part that shares what it
 * did not touch.
 */
export interface Part {
  /** x, y, z per vertex, mm, recentred coordinates. */
  positions: Float32Array;
  patches: readonly Patch[];
}

/** The undivided sculpt as a part. */
export const partOf = (mesh: Mesh): Part => ({
  positions: mesh.positions,
  patches: [{ of: { kind: 'skin' }, triangles: mesh.triangles }],
});

/** All triangles of a part, or of those patches that `choose` takes, as one mesh over the part's vertices. */
export function meshOf(part: Part, choose: (of: PatchOf) => boolean = () => true): Mesh {
  const chosen = part.patches.filter((patch) => choose(patch.of));
  if (chosen.length === 1) return { positions: part.positions, triangles: chosen[0].triangles };
  const triangles = new Uint32Array(chosen.reduce((n, patch) => n + patch.triangles.length, 0));
  let at = 0;
  for (const patch of chosen) {
    triangles.set(patch.triangles, at);
    at += patch.triangles.length;
  }
  return { positions: part.positions, triangles };
}

/** The same mesh with only the vertices its triangles use, in the order of first use. */
export function compactMesh(mesh: Mesh): Mesh {
  const triangles = new Uint32Array(mesh.triangles.length);
  const newIndex = new Map<number, number>();
  for (let i = 0; i < triangles.length; i++) {
    const old = mesh.triangles[i];
    let index = newIndex.get(old);
    if (index === undefined) {
      index = newIndex.size;
      newIndex.set(old, index);
    }
    triangles[i] = index;
  }
  const positions = new Float32Array(newIndex.size * 3);
  for (const [old, index] of newIndex) {
    positions.set(mesh.positions.subarray(old * 3, old * 3 + 3), index * 3);
  }
  return { positions, triangles };
}
