import type { Mesh } from '../mesh.ts';
import { PairTable } from '../topology/pair-table.ts';
import { joinIndices } from './join-indices.ts';
import { allPositions, coordinate, NOTHING_ADDED, type Vertices, vertexCount } from './vertices.ts';

/** A flat face of a seam, by its number among those of the seam. */
export interface FacetId {
  seamId: string;
  facet: number;
}

/** A flat face that a seam gives its parts. */
export interface FacetOf extends FacetId {
  kind: 'face';
  /** Further facets in the same plane: on one flat face of a body several others may stand. */
  also?: readonly FacetId[];
}

/** The facets that a patch is of; none for one that is no face. */
export const facetsOf = (of: PatchOf): readonly FacetId[] =>
  of.kind === 'face' ? [of, ...(of.also ?? [])] : [];

/** True where a patch is this facet's. */
export const isOfFacet = (of: PatchOf, seamId: string, facet: number): boolean =>
  facetsOf(of).some((one) => one.seamId === seamId && one.facet === facet);

/**
 * What a run of a part's triangles is: the sculpt's own skin, a seam's face, a joint's surface; or a lid of a
 * piece that was taken out of a part to work on, which no finished part has. Skin may be in several runs.
 */
export type PatchOf =
  /** `trimmedBy` is the seam whose other body it follows, where this one gave way to it. */
  | { kind: 'skin'; trimmedBy?: string }
  | { kind: 'lid'; number: number }
  | FacetOf
  | { kind: 'joint'; seamId: string; jointId: string; does: 'add' | 'take' };

/** Triangles (vertex index triples) that belong together. */
export interface Patch {
  of: PatchOf;
  triangles: Uint32Array;
}

/**
 * A closed solid whose triangles know what they are. All patches index the same
 * vertices. Parts are values: an edit makes a new part that shares what it
 * did not touch.
 */
export interface Part extends Vertices {
  patches: readonly Patch[];
}

/** The undivided sculpt as a part. */
export const partOf = (mesh: Mesh): Part => ({
  positions: mesh.positions,
  added: NOTHING_ADDED,
  patches: [{ of: { kind: 'skin' }, triangles: mesh.triangles }],
});

/** A part's triangles, or those of the patches that `choose` takes: its own array where that is one patch. */
export function trianglesOf(part: Part, choose: (of: PatchOf) => boolean = () => true): Uint32Array {
  const chosen = part.patches.filter((patch) => choose(patch.of));
  if (chosen.length === 1) return chosen[0].triangles;
  return joinIndices(chosen.map(({ triangles }) => triangles));
}

/** All triangles of a part, or of those patches that `choose` takes, as one mesh over all the part's vertices. */
export const meshOf = (part: Part, choose?: (of: PatchOf) => boolean): Mesh => ({
  positions: allPositions(part),
  triangles: trianglesOf(part, choose),
});

/** The patches that `choose` takes as a mesh of their own: the cost is theirs alone, however large the part. */
export const patchMesh = (part: Part, choose: (of: PatchOf) => boolean): CompactMesh =>
  compactMesh({ positions: part.positions, triangles: trianglesOf(part, choose) }, part.added);

/** True for triangles that use most of the vertices a sculpt or cut brought and none that joints added: a skin. */
export function usesMost({ positions }: Vertices, triangles: Uint32Array): boolean {
  const count = positions.length / 3;
  if (triangles.length <= count) return false;
  for (let i = 0; i < triangles.length; i++) if (triangles[i] >= count) return false;
  return true;
}

/** Patches as a part of their own, over only the vertices they use; and all of it as one mesh on the same arrays. */
export function compactPart(
  { positions, added }: Vertices,
  patches: readonly Patch[],
): { part: Part; mesh: CompactMesh } {
  const mesh = compactMesh(
    { positions, triangles: joinIndices(patches.map(({ triangles }) => triangles)) },
    added,
  );
  let at = 0;
  const renumbered = patches.map(({ of, triangles }): Patch => {
    at += triangles.length;
    return { of, triangles: mesh.triangles.subarray(at - triangles.length, at) };
  });
  return { part: { positions: mesh.positions, added: NOTHING_ADDED, patches: renumbered }, mesh };
}

export interface CompactMesh extends Mesh {
  /** What each vertex was called before. */
  ids: Uint32Array;
}

/** The same mesh with only the vertices its triangles use, in the order of first use; `added` are vertices numbered on. */
export function compactMesh({ positions, triangles }: Mesh, added = NOTHING_ADDED): CompactMesh {
  const vertices = { positions, added };
  const { compact, ids } = byFirstUse(triangles, vertexCount(vertices));
  const used = new Float32Array(ids.length * 3);
  if (added.length === 0) {
    for (let v = 0, to = 0; v < ids.length; v++) {
      const from = ids[v] * 3;
      used[to++] = positions[from];
      used[to++] = positions[from + 1];
      used[to++] = positions[from + 2];
    }
  } else {
    for (let v = 0; v < ids.length; v++) {
      for (let k = 0; k < 3; k++) used[v * 3 + k] = coordinate(vertices, ids[v], k);
    }
  }
  return { positions: used, triangles: compact, ids };
}

/** Triangles with their vertices numbered by first use, and what each was called: by a table where they use few of `count`, else by an array. */
function byFirstUse(triangles: Uint32Array, count: number): { compact: Uint32Array; ids: Uint32Array } {
  const compact = new Uint32Array(triangles.length);
  if (triangles.length < count) {
    const numbers = new PairTable(triangles.length / 4);
    for (let i = 0; i < triangles.length; i++) compact[i] = numbers.number(triangles[i], 0);
    return {
      compact,
      ids: Uint32Array.from({ length: numbers.count }, (_, number) => numbers.first(number)),
    };
  }
  /** One more than each vertex's number. */
  const numbers = new Uint32Array(count);
  const ids = new Uint32Array(count);
  let used = 0;
  for (let i = 0; i < triangles.length; i++) {
    const v = triangles[i];
    if (numbers[v] === 0) {
      ids[used] = v;
      numbers[v] = ++used;
    }
    compact[i] = numbers[v] - 1;
  }
  return { compact, ids: ids.slice(0, used) };
}
