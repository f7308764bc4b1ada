import type { Plane } from '../math/plane.ts';
import type { Vec3 } from '../math/vec3.ts';
import { type Rim, rimOf } from '../mesh/part/border.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { type CompactMesh, compactPart, type Part, type Patch, type PatchOf } from '../mesh/part/part.ts';
import { allPositions, NOTHING_ADDED, vertexCount, withVertices } from '../mesh/part/vertices.ts';
import { PairTable } from '../mesh/topology/pair-table.ts';
import { PlaceTable } from '../mesh/topology/place-table.ts';
import { openEdges } from './face.ts';
import { type Parted, partedBy, verticesBehind } from './parted-by.ts';

/**
 * What of a part lies behind a plane: all triangles with a corner there, closed in front of it by a cone. A boolean
 * with bodies that stay behind the plane does the same to the collar as to the whole part: any two ways of closing it
 * in front enclose nothing behind, so they give every point there the same winding number.
 */
export interface Collar {
  /** Closed; its vertices are numbered anew, the cone's tip last. */
  part: Part;
  /** What each of its vertices is called in the part it came from. */
  ids: Uint32Array;
  /** The other triangles, patch by patch of the part. */
  rest: Uint32Array[];
  /** Edges (two ids of the part each) along which the collar was taken off, as its triangles run. */
  border: Uint32Array;
  /** Which lid closes it. */
  lid: PatchOf;
  /** Where its vertices stand, each at a place of its own, numbered as they are. */
  places: PlaceTable;
}

/**
 * Takes the collar off a part, or answers null where it cannot be closed by a plain cone or spares nothing. Of a part
 * without an open or faulty edge (`isSound`) the border is looked for only where it can lie, and found the same.
 */
export function takeCollar(part: Part, plane: Plane, isSound = false): Collar | null {
  const piece = closedBehind(part, plane, isSound);
  const places = piece && placesOf(piece.mesh);
  if (!piece || !places) return null;
  const rest = piece.parted.map(({ far }) => far);
  return { part: piece.part, rest, border: piece.border, lid: piece.lid, ids: piece.mesh.ids, places };
}

/** The same for a piece that need not be put back. */
export function closedBehind(
  part: Part,
  plane: Plane,
  isSound = false,
): (Omit<Collar, 'ids' | 'places' | 'rest'> & { mesh: CompactMesh; parted: readonly Parted[] }) | null {
  const near: Patch[] = [];
  const parted = part.patches.map(({ triangles }) => partedBy(plane, part, triangles));
  part.patches.forEach(({ of }, i) => {
    if (parted[i].near.length > 0) near.push({ of, triangles: parted[i].near });
  });
  const isSpared = parted.some((one, i) => one.near.length < part.patches[i].triangles.length);
  if (!isSpared || near.length === 0) return null;
  const { part: piece, mesh } = compactPart(part, near);
  const { edges: local, faults } = isSound ? rimInFront(mesh, plane) : rimOf(mesh);
  if (faults > 0 || !isPlainBorder(local)) return null;
  const cone = coneOver(mesh, local, plane.normal);
  // A collar of a collar has the other's lid in it.
  const lid: PatchOf = { kind: 'lid', number: 1 + Math.max(0, ...near.map(lidNumber)) };
  const patches = [...piece.patches, { of: lid, triangles: cone.triangles }];
  return {
    part: { positions: cone.positions, added: NOTHING_ADDED, patches },
    mesh,
    parted,
    border: called(local, mesh.ids),
    lid,
  };
}

/**
 * Works on what of a part lies behind all of the planes and puts it back; null where `work` answers null, or what it
 * answers cannot be put back.
 */
export function workBehind(
  part: Part,
  [plane, ...others]: readonly Plane[],
  work: (piece: Part) => Part | null,
  isSound = false,
): Part | null {
  if (plane === undefined) return work(part);
  const collar = takeCollar(part, plane, isSound);
  if (!collar) return workBehind(part, others, work, isSound);
  const worked = workBehind(collar.part, others, work, isSound);
  return worked && putBack(part, collar, worked);
}

/** The border of what a sound part has behind a plane: both ends of its edges lie in front, as does all beyond them. */
function rimInFront({ positions, triangles: t }: CompactMesh, plane: Plane): Rim {
  const isBehind = verticesBehind(plane, { positions, added: NOTHING_ADDED });
  const across: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    // Of a triangle with a corner behind no more than one side lies in front.
    const [a, b, c] = [t[i], t[i + 1], t[i + 2]];
    if ((isBehind[a] | isBehind[b]) === 0) across.push(a, b);
    else if ((isBehind[b] | isBehind[c]) === 0) across.push(b, c);
    else if ((isBehind[c] | isBehind[a]) === 0) across.push(c, a);
  }
  const found = new PairTable(across.length / 2);
  for (let i = 0; i < across.length; i += 2) found.number(across[i], across[i + 1]);
  const open: [number, number][] = [];
  for (let i = 0; i < across.length; i += 2)
    if (found.find(across[i + 1], across[i]) < 0) open.push([across[i], across[i + 1]]);
  // In the order in which `rimOf` has them: what a cone is made of comes in no other.
  open.sort((one, other) => Math.min(...one) - Math.min(...other));
  return { edges: Uint32Array.from(open.flat()), faults: 0 };
}

const lidNumber = ({ of }: Patch): number => (of.kind === 'lid' ? of.number : 0);

/** Vertices by their places, or null where two share one: a boolean would not tell them apart. */
export function placesOf({ positions, ids }: CompactMesh): PlaceTable | null {
  const places = new PlaceTable(ids.length * 2);
  for (let v = 0; v < ids.length; v++) {
    if (places.number(positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]) !== v) return null;
  }
  return places;
}

const trianglesIn = ({ triangles }: Patch): Uint32Array => triangles;

/** True where no vertex has more than one border edge leave it: then every edge from the cone's tip lies between two triangles. */
export function isPlainBorder(edges: Uint32Array): boolean {
  const starts = new PairTable(edges.length / 2);
  for (let i = 0; i < edges.length; i += 2) starts.number(edges[i], 0);
  return starts.count === edges.length / 2;
}

/** A cone over all border edges, its tip off their middle by about their extent, along `away`. */
function coneOver(
  { positions }: { positions: Float32Array },
  edges: Uint32Array,
  away: Vec3,
): { positions: Float32Array; triangles: Uint32Array } {
  const tip = positions.length / 3;
  const grown = new Float32Array(positions.length + 3);
  grown.set(positions);
  const middle = [0, 0, 0];
  for (let i = 0; i < edges.length; i += 2) {
    for (let k = 0; k < 3; k++) middle[k] += (positions[edges[i] * 3 + k] * 2) / edges.length;
  }
  let extent = 1;
  for (let i = 0; i < edges.length; i += 2) {
    for (let k = 0; k < 3; k++) extent = Math.max(extent, Math.abs(positions[edges[i] * 3 + k] - middle[k]));
  }
  for (let k = 0; k < 3; k++) grown[tip * 3 + k] = middle[k] + away[k] * extent;
  const triangles = new Uint32Array((edges.length / 2) * 3);
  for (let i = 0, to = 0; i < edges.length; i += 2) {
    triangles[to++] = edges[i + 1];
    triangles[to++] = edges[i];
    triangles[to++] = tip;
  }
  return { positions: grown, triangles };
}

/**
 * Puts a worked collar back: its vertices take their old ids where they stand at an old one's place, the others
 * are numbered on. Null where its edge is not the one it was taken off along. What was left of the skin stays a patch
 * of its own beside the worked one, so that nothing of it need be measured or shown anew.
 */
export function putBack(part: Part, collar: Collar, worked: Part): Part | null {
  const numbers = renumber(part, collar, worked);
  const back = new Map<string, Patch[]>();
  for (const { of, triangles } of worked.patches) {
    if (nameOf(of) === nameOf(collar.lid)) continue;
    const patch = { of, triangles: called(triangles, numbers.ids) };
    back.set(nameOf(of), [...(back.get(nameOf(of)) ?? []), patch]);
  }
  // A boolean's result is closed: where the lid ends, and it alone, the rest is open.
  const lid = worked.patches.filter(({ of }) => nameOf(of) === nameOf(collar.lid)).map(trianglesIn);
  const open = openEdges(called(joinIndices(lid), numbers.ids)).reverse();
  if (!sameEdges(open, collar.border)) return null;
  const old = part.patches.map(({ of }, i): Patch => {
    const triangles = collar.rest[i];
    if (of.kind === 'skin') return { of, triangles };
    const more = back.get(nameOf(of)) ?? [];
    back.delete(nameOf(of));
    return { of, triangles: joinIndices([triangles, ...more.map(trianglesIn)]) };
  });
  const made = [...back.values()].map(
    (patches): Patch => ({ of: patches[0].of, triangles: joinIndices(patches.map(trianglesIn)) }),
  );
  return {
    ...withVertices(part, numbers.added),
    patches: [...old, ...made].filter(({ triangles }) => triangles.length > 0),
  };
}

/** Vertices by the names that `ids` gives them. */
function called(vertices: Uint32Array, ids: Uint32Array): Uint32Array {
  const names = new Uint32Array(vertices.length);
  for (let i = 0; i < vertices.length; i++) names[i] = ids[vertices[i]];
  return names;
}

const nameOf = (of: PatchOf): string => JSON.stringify(of);

/** The id each worked vertex goes by in the part, and the coordinates of those it did not have. */
function renumber(
  part: Part,
  { ids: old, places }: Collar,
  worked: Part,
): { ids: Uint32Array; added: Float32Array } {
  const first = vertexCount(part);
  const p = allPositions(worked);
  const ids = new Uint32Array(p.length / 3);
  const added = new Float32Array(p.length);
  let used = 0;
  for (let v = 0, i = 0; v < ids.length; v++, i += 3) {
    const place = places.number(p[i], p[i + 1], p[i + 2]);
    // New ones stay apart where they share a place: edges that only touch would else become one of four triangles.
    ids[v] = place < old.length ? old[place] : first + used / 3;
    if (place < old.length) continue;
    added[used++] = p[i];
    added[used++] = p[i + 1];
    added[used++] = p[i + 2];
  }
  return { ids, added: added.slice(0, used) };
}

function sameEdges(a: Uint32Array, b: Uint32Array): boolean {
  const edges = new PairTable(b.length / 2);
  for (let i = 0; i < b.length; i += 2) edges.number(b[i], b[i + 1]);
  for (let i = 0; i < a.length; i += 2) if (edges.find(a[i], a[i + 1]) < 0) return false;
  return a.length === b.length;
}
