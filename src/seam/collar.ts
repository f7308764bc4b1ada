import type { Plane } from '../math/plane.ts';
import type { Vec3 } from '../math/vec3.ts';
import { borderOf } from '../mesh/part/border.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { type CompactMesh, compactPart, type Part, type Patch, type PatchOf } from '../mesh/part/part.ts';
import {
  coordinate,
  NOTHING_ADDED,
  type Vertices,
  vertexCount,
  withVertices,
} from '../mesh/part/vertices.ts';
import { PairTable } from '../mesh/topology/pair-table.ts';
import { PlaceTable } from '../mesh/topology/place-table.ts';
import { openEdges } from './face.ts';

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

/** Takes the collar off a part, or answers null where it cannot be closed by a plain cone or spares nothing. */
export function takeCollar(part: Part, plane: Plane): Collar | null {
  const piece = closedBehind(part, plane);
  const places = piece && placesOf(piece.mesh);
  return piece && places ? { ...piece, ids: piece.mesh.ids, places } : null;
}

/** The same for a piece that need not be put back. */
export function closedBehind(
  part: Part,
  plane: Plane,
): (Omit<Collar, 'ids' | 'places'> & { mesh: CompactMesh }) | null {
  const near: Patch[] = [];
  const rest = part.patches.map(({ of, triangles }) => {
    const parted = partedBy(plane, part, triangles);
    if (parted.near.length > 0) near.push({ of, triangles: parted.near });
    return parted.far;
  });
  const spared = rest.reduce((n, { length }) => n + length, 0);
  if (spared === 0 || near.length === 0) return null;
  const { part: piece, mesh } = compactPart(part, near);
  const { edges: local, faults } = borderOf(mesh);
  if (faults > 0 || !isPlainBorder(local)) return null;
  const cone = coneOver(mesh, local, plane.normal);
  // A collar of a collar has the other's lid in it.
  const lid: PatchOf = { kind: 'lid', number: 1 + Math.max(0, ...near.map(lidNumber)) };
  const patches = [...piece.patches, { of: lid, triangles: cone.triangles }];
  return {
    part: { positions: cone.positions, added: NOTHING_ADDED, patches },
    mesh,
    rest,
    border: local.map((v) => mesh.ids[v]),
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
): Part | null {
  if (plane === undefined) return work(part);
  const collar = takeCollar(part, plane);
  if (!collar) return workBehind(part, others, work);
  const worked = workBehind(collar.part, others, work);
  return worked && putBack(part, collar, worked);
}

const lidNumber = ({ of }: Patch): number => (of.kind === 'lid' ? of.number : 0);

/** Vertices by their places, or null where two share one: a boolean would not tell them apart. */
function placesOf({ positions, ids }: CompactMesh): PlaceTable | null {
  const places = new PlaceTable(ids.length * 2);
  for (let v = 0; v < ids.length; v++) {
    if (places.number(positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]) !== v) return null;
  }
  return places;
}

interface Parted {
  plane: Plane;
  near: Uint32Array;
  far: Uint32Array;
}

/** Kept as long as the triangles are, for the last plane: while a peg moves, the skin is parted once. */
const known = new WeakMap<Uint32Array, Parted>();

function partedBy(plane: Plane, vertices: Vertices, triangles: Uint32Array): Parted {
  const last = known.get(triangles);
  if (last && isSamePlane(last.plane, plane)) return last;
  const parted = { plane, ...partTriangles(triangles, verticesBehind(plane, vertices)) };
  known.set(triangles, parted);
  return parted;
}

const isSamePlane = (a: Plane, b: Plane): boolean =>
  a.offset === b.offset && a.normal.every((value, k) => value === b.normal[k]);

/** 1 for each vertex behind the plane. */
function verticesBehind({ normal, offset }: Plane, vertices: Vertices): Uint8Array {
  const isBehind = new Uint8Array(vertexCount(vertices));
  const [x, y, z] = normal;
  let v = 0;
  for (const p of [vertices.positions, vertices.added]) {
    for (let i = 0; i < p.length; i += 3, v++) {
      if (x * p[i] + y * p[i + 1] + z * p[i + 2] < offset) isBehind[v] = 1;
    }
  }
  return isBehind;
}

function partTriangles(
  triangles: Uint32Array,
  isBehind: Uint8Array,
): { near: Uint32Array; far: Uint32Array } {
  let count = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    count += isBehind[triangles[i]] | isBehind[triangles[i + 1]] | isBehind[triangles[i + 2]];
  }
  const near = new Uint32Array(count * 3);
  const far = new Uint32Array(triangles.length - count * 3);
  let n = 0;
  let f = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i];
    const b = triangles[i + 1];
    const c = triangles[i + 2];
    if ((isBehind[a] | isBehind[b] | isBehind[c]) === 1) {
      near[n++] = a;
      near[n++] = b;
      near[n++] = c;
    } else {
      far[f++] = a;
      far[f++] = b;
      far[f++] = c;
    }
  }
  return { near, far };
}

const trianglesIn = ({ triangles }: Patch): Uint32Array => triangles;

/** True where no vertex has more than one border edge leave it: then every edge from the cone's tip lies between two triangles. */
function isPlainBorder(edges: Uint32Array): boolean {
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
    const patch = { of, triangles: triangles.map((v) => numbers.ids[v]) };
    back.set(nameOf(of), [...(back.get(nameOf(of)) ?? []), patch]);
  }
  // A boolean's result is closed: where the lid ends, and it alone, the rest is open.
  const lid = worked.patches.filter(({ of }) => nameOf(of) === nameOf(collar.lid)).map(trianglesIn);
  const open = openEdges(joinIndices(lid).map((v) => numbers.ids[v])).reverse();
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

const nameOf = (of: PatchOf): string => JSON.stringify(of);

/** The id each worked vertex goes by in the part, and the coordinates of those it did not have. */
function renumber(
  part: Part,
  { ids: old, places }: Collar,
  worked: Part,
): { ids: Uint32Array; added: Float32Array } {
  const first = vertexCount(part);
  const ids = new Uint32Array(vertexCount(worked));
  const added: number[] = [];
  for (let v = 0; v < ids.length; v++) {
    const x = coordinate(worked, v, 0);
    const y = coordinate(worked, v, 1);
    const z = coordinate(worked, v, 2);
    const place = places.number(x, y, z);
    // New ones stay apart where they share a place: edges that only touch would else become one of four triangles.
    ids[v] = place < old.length ? old[place] : first + added.length / 3;
    if (place >= old.length) added.push(x, y, z);
  }
  return { ids, added: Float32Array.from(added) };
}

function sameEdges(a: Uint32Array, b: Uint32Array): boolean {
  const edges = new PairTable(b.length / 2);
  for (let i = 0; i < b.length; i += 2) edges.number(b[i], b[i + 1]);
  for (let i = 0; i < a.length; i += 2) if (edges.find(a[i], a[i + 1]) < 0) return false;
  return a.length === b.length;
}
