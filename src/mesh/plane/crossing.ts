import type { Plane } from '../../math/plane.ts';
import { coordinate, type Vertices, vertexCount, withVertices } from '../part/vertices.ts';
import { denseIds } from '../topology/dense-ids.ts';
import { CutVertices } from './cut-vertices.ts';

/** Where a mesh meets a plane. */
export interface Crossing {
  /** The mesh's own vertices, then those cut. */
  vertices: Vertices;
  /** How many are the mesh's own. */
  ownCount: number;
  /**
   * Directed edges in the plane, two ids each, as the triangles in front run
   * through them: around material they go counter-clockwise seen from the front.
   */
  edges: Uint32Array;
  /** The same before those that are walked both ways are left out. */
  walked: Uint32Array;
}

/** Triangles of one run that are not wholly on one side of a plane. */
export interface MixedTriangles {
  triangles: Uint32Array;
  /** Index of each one's first corner in `triangles`. */
  at: Uint32Array;
  /** Side of each one's three corners: 1 in front, −1 behind, 0 on the plane. */
  sides: Int8Array;
}

/** The plane's edges through the mixed triangles, and its cut vertices; `idOf` answers the id a cut vertex goes by. */
export function followPlane(
  vertices: Vertices,
  mixed: readonly MixedTriangles[],
  plane: Plane,
): { crossing: Crossing; cuts: CutVertices; idOf(id: number): number } {
  const count = mixed.reduce((n, { at }) => n + at.length, 0);
  const cuts = new CutVertices(vertices, plane, count + 8);
  const edges = new Uint32Array(count * 6);
  let used = 0;
  for (const run of mixed) {
    for (let m = 0; m < run.at.length; m++) used = collectEdges(run, m, cuts, plane, edges, used);
  }
  const own = vertexCount(vertices);
  const aliases = cuts.aliases();
  const walked = edges.subarray(0, used);
  for (let i = 0; i < used; i++) if (walked[i] >= own) walked[i] = own + aliases[walked[i] - own];
  return {
    crossing: {
      vertices: withVertices(vertices, cuts.positions),
      ownCount: own,
      edges: cancelOpposite(walked, own, own + aliases.length),
      walked,
    },
    cuts,
    idOf: (id) => (id < own ? id : own + aliases[id - own]),
  };
}

/** Adds the in-plane edges of one triangle that has material in front, directed as its front piece runs; answers the new length. */
function collectEdges(
  { triangles, at, sides }: MixedTriangles,
  m: number,
  cuts: CutVertices,
  plane: Plane,
  edges: Uint32Array,
  used: number,
): number {
  const s = m * 3;
  const front = sides[s] > 0 || sides[s + 1] > 0 || sides[s + 2] > 0;
  const back = sides[s] < 0 || sides[s + 1] < 0 || sides[s + 2] < 0;
  if (!front && back) return used;
  const i = at[m];
  if (!front && flatFacesFront(cuts.vertices, triangles.subarray(i, i + 3), plane)) return used;
  let end = used;
  let from = -1;
  let to = -1;
  for (let k = 0; k < 3; k++) {
    const l = k === 2 ? 0 : k + 1;
    const a = triangles[i + k];
    const b = triangles[i + l];
    const sa = sides[s + k];
    const sb = sides[s + l];
    if (sa === 0 && sb === 0) {
      edges[end++] = a;
      edges[end++] = b;
    }
    // The front piece leaves the front side at `from` and comes back at `to`.
    if (sa > 0 && sb < 0) from = cuts.on(a, b);
    else if (sa < 0 && sb > 0) to = cuts.on(a, b);
    else if (sb === 0 && sa > 0 && back) from = b;
    else if (sa === 0 && sb > 0 && back) to = a;
  }
  if (from < 0 || to < 0) return end;
  edges[end++] = from;
  edges[end++] = to;
  return end;
}

/** True when a triangle in the plane is seen from the front: the material behind it is the back part's. */
export function flatFacesFront(vertices: Vertices, corners: ArrayLike<number>, plane: Plane): boolean {
  const along = (corner: number, axis: number) =>
    coordinate(vertices, corners[corner], axis) - coordinate(vertices, corners[0], axis);
  const [nx, ny, nz] = plane.normal;
  const [ex, ey, ez] = [along(1, 0), along(1, 1), along(1, 2)];
  const [fx, fy, fz] = [along(2, 0), along(2, 1), along(2, 2)];
  return (ey * fz - ez * fy) * nx + (ez * fx - ex * fz) * ny + (ex * fy - ey * fx) * nz > 0;
}

/**
 * Directed edges (two ids each) but for those walked both ways: such lie between two triangles of the front, no outline
 * there. Most edges run between cut vertices, whose ids go from `firstCut` to `end`.
 */
export function cancelOpposite(edges: Uint32Array, firstCut: number, end: number): Uint32Array {
  const { numbers, count } = denseIds(edges, firstCut, end);
  /** Per start, one more than the number of the last edge kept; per edge, the one kept before it in the same way. */
  const last = new Uint32Array(count);
  const before = new Uint32Array(edges.length / 2);
  const isOut = new Uint8Array(edges.length / 2);
  for (let edge = 0; edge < isOut.length; edge++) {
    const from = numbers[edge * 2];
    const to = numbers[edge * 2 + 1];
    let opposite = last[to];
    while (opposite > 0 && (isOut[opposite - 1] === 1 || numbers[opposite * 2 - 1] !== from))
      opposite = before[opposite - 1];
    if (opposite > 0) isOut[opposite - 1] = 1;
    if (opposite > 0 || from === to) isOut[edge] = 1;
    else {
      before[edge] = last[from];
      last[from] = edge + 1;
    }
  }
  const left = new Uint32Array(edges.length);
  let used = 0;
  for (let edge = 0; edge < isOut.length; edge++) {
    if (isOut[edge] === 1) continue;
    left[used++] = edges[edge * 2];
    left[used++] = edges[edge * 2 + 1];
  }
  return left.subarray(0, used);
}
