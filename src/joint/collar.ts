import type { PlaneFrame } from '../math/plane.ts';
import { dot, type Vec3 } from '../math/vec3.ts';
import { borderOf } from '../mesh/border.ts';
import { joinIndices } from '../mesh/join-indices.ts';
import { PairTable } from '../mesh/pair-table.ts';
import { compactMesh, type Part, type Patch, type PatchOf } from '../mesh/part.ts';
import { PlaceTable } from '../mesh/place-table.ts';
import {
  allPositions,
  coordinate,
  NOTHING_ADDED,
  type Vertices,
  vertexCount,
  withVertices,
} from '../mesh/vertices.ts';
import { openEdges } from '../seam/face.ts';

/**
 * The collar of a part: all triangles with a corner nearer to the seam plane than the joints reach, closed
 * beyond their reach by a cone. A boolean with bodies that stay on the near side of that reach does the same
 * to the collar as to the whole part: any two ways of closing it on the far side enclose nothing on the near
 * side, so they give every point there the same winding number.
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
}

/** Beyond the joints the collar reaches this much farther, mm, so that the cone stays clear of them. */
const CLEARANCE = 0.5;

/**
 * Takes the collar off a part, or answers null where it cannot be closed by a plain cone or spares nothing.
 * `inward` is the unit normal of the seam plane into the part, `reach` how deep the joints go, mm.
 */
export function takeCollar(part: Part, frame: PlaneFrame, inward: Vec3, reach: number): Collar | null {
  const isNear = nearVertices(part, inward, dot(inward, frame.origin) + reach + CLEARANCE);
  const near: Patch[] = [];
  const rest = part.patches.map(({ of, triangles }) => {
    const parted = partTriangles(triangles, isNear);
    if (parted.near.length > 0) near.push({ of, triangles: parted.near });
    return parted.far;
  });
  const spared = rest.reduce((n, { length }) => n + length, 0);
  if (spared === 0) return null;
  const mesh = compactMesh(
    { positions: part.positions, triangles: joinIndices(near.map(trianglesIn)) },
    part.added,
  );
  const { edges: local, faults } = borderOf(mesh);
  if (faults > 0 || !isPlainBorder(local)) return null;
  const cone = coneOver(mesh, local, inward);
  let at = 0;
  const patches = near.map(({ of, triangles }): Patch => {
    at += triangles.length;
    return { of, triangles: mesh.triangles.subarray(at - triangles.length, at) };
  });
  return {
    part: {
      positions: cone.positions,
      added: NOTHING_ADDED,
      patches: [...patches, { of: { kind: 'lid' }, triangles: cone.triangles }],
    },
    ids: mesh.ids,
    rest,
    border: local.map((v) => mesh.ids[v]),
  };
}

/** 1 for each vertex whose height along `inward` is less than `height`. */
function nearVertices(vertices: Vertices, inward: Vec3, height: number): Uint8Array {
  const isNear = new Uint8Array(vertexCount(vertices));
  const [x, y, z] = inward;
  for (let v = 0; v < isNear.length; v++) {
    const h =
      x * coordinate(vertices, v, 0) + y * coordinate(vertices, v, 1) + z * coordinate(vertices, v, 2);
    if (h < height) isNear[v] = 1;
  }
  return isNear;
}

function partTriangles(triangles: Uint32Array, isNear: Uint8Array): { near: Uint32Array; far: Uint32Array } {
  let count = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    count += isNear[triangles[i]] | isNear[triangles[i + 1]] | isNear[triangles[i + 2]];
  }
  const near = new Uint32Array(count * 3);
  const far = new Uint32Array(triangles.length - count * 3);
  let n = 0;
  let f = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i];
    const b = triangles[i + 1];
    const c = triangles[i + 2];
    if ((isNear[a] | isNear[b] | isNear[c]) === 1) {
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

/** A cone over all border edges, its tip off their middle by about their extent, deeper in the part. */
function coneOver(
  { positions }: { positions: Float32Array },
  edges: Uint32Array,
  inward: Vec3,
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
  for (let k = 0; k < 3; k++) grown[tip * 3 + k] = middle[k] + inward[k] * extent;
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
 * are numbered on. Null where its edge is not the one it was taken off along.
 */
export function putBack(part: Part, collar: Collar, worked: Part): Part | null {
  const numbers = renumber(part, collar, worked);
  if (!numbers) return null;
  const patches = worked.patches
    .filter(({ of }) => of.kind !== 'lid')
    .map(({ of, triangles }): Patch => ({ of, triangles: triangles.map((v) => numbers.ids[v]) }));
  if (!sameEdges(openEdges(joinIndices(patches.map(trianglesIn))), collar.border)) return null;
  const isOf = (of: PatchOf) => (patch: Patch) => JSON.stringify(patch.of) === JSON.stringify(of);
  const old = part.patches.map(({ of }, i): Patch => {
    const triangles = joinIndices([collar.rest[i], ...patches.filter(isOf(of)).map(trianglesIn)]);
    return { of, triangles };
  });
  const made = patches.filter(({ of }) => !part.patches.some(isOf(of)));
  return {
    positions: allPositions(withVertices(part, numbers.added)),
    added: NOTHING_ADDED,
    patches: [...old, ...made].filter(({ triangles }) => triangles.length > 0),
  };
}

/** The id each worked vertex goes by in the part, and the coordinates of those it did not have; null where two old ones share a place. */
function renumber(
  part: Part,
  { ids: old, part: { positions } }: Collar,
  worked: Part,
): { ids: Uint32Array; added: Float32Array } | null {
  const places = new PlaceTable(old.length * 2);
  for (let v = 0; v < old.length; v++) {
    if (places.number(positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]) !== v) return null;
  }
  const first = vertexCount(part);
  const ids = new Uint32Array(vertexCount(worked));
  const added: number[] = [];
  for (let v = 0; v < ids.length; v++) {
    const [x, y, z] = [0, 1, 2].map((axis) => coordinate(worked, v, axis));
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
