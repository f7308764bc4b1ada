import type { Plane } from '../math/plane.ts';
import { float32Step, TOLERANCES } from '../math/tolerances.ts';
import { BLOCK, blockBoxes } from './blocks.ts';

/**
 * Where a mesh meets a plane. Vertex ids below `vertexCount` are the mesh's own,
 * those from there on index `cutPositions`.
 */
export interface Crossing {
  vertexCount: number;
  /** x, y, z per cut vertex, mm. */
  cutPositions: Float32Array;
  /**
   * Directed edges in the plane, two ids each, as the triangles in front run
   * through them: around material they go counter-clockwise seen from the front.
   */
  edges: Uint32Array;
}

/**
 * A crossing with all that a split needs. Cut vertices are made once per mesh edge and
 * shared by both sides, so the halves meet exactly.
 */
export interface Trace extends Crossing {
  /** Per mesh vertex: 1 in front, −1 behind, 0 on the plane. */
  side: Int8Array;
  /** What each run of triangles holds. */
  runs: readonly TracedRun[];
  /** The cut vertex of a crossed edge, by its two mesh vertices in any order. */
  cutVertex(a: number, b: number): number;
}

export interface TracedRun {
  /** Triangles wholly in front and wholly behind, no corner on the plane. */
  frontCount: number;
  backCount: number;
  /** All others, as the index of their first corner. */
  mixed: Uint32Array;
}

const snapOf = new WeakMap<Float32Array, number>();

/** Vertices nearer to a plane than this lie on it, mm. Kept as long as the positions are. */
function snapDistance(positions: Float32Array): number {
  const known = snapOf.get(positions);
  if (known !== undefined) return known;
  let largest = 0;
  for (let i = 0; i < positions.length; i++) {
    const magnitude = Math.abs(positions[i]);
    if (magnitude > largest) largest = magnitude;
  }
  const snap = TOLERANCES.snapUlps * float32Step(largest);
  snapOf.set(positions, snap);
  return snap;
}

/** Which side of the plane each vertex is on. */
function sidesOf(positions: Float32Array, plane: Plane, snap: number): Int8Array {
  const side = new Int8Array(positions.length / 3);
  for (let v = 0; v < side.length; v++) side[v] = sideOf(positions, v, plane, snap);
  return side;
}

function sideOf(positions: Float32Array, v: number, { normal, offset }: Plane, snap: number): number {
  const i = v * 3;
  const d = normal[0] * positions[i] + normal[1] * positions[i + 1] + normal[2] * positions[i + 2] - offset;
  return d > snap ? 1 : d < -snap ? -1 : 0;
}

/** Follows a plane through a closed mesh given as runs of triangles over one vertex array, ready to split it. */
export function tracePlane(positions: Float32Array, runs: readonly Uint32Array[], plane: Plane): Trace {
  const side = sidesOf(positions, plane, snapDistance(positions));
  const traced = runs.map((triangles) => sortRun(triangles, side));
  const mixed = traced.map((run) => run.mixed);
  const { cuts, ids, edges } = follow(positions, runs, mixed, side, plane);
  return {
    vertexCount: side.length,
    side,
    runs: traced,
    cutPositions: Float32Array.from(cuts.positions),
    cutVertex: (a, b) => ids(cuts.on(a, b)),
    edges,
  };
}

/** Only where the plane runs: looks at those blocks of triangles that it passes through. */
export function crossPlane(positions: Float32Array, runs: readonly Uint32Array[], plane: Plane): Crossing {
  const side = new Int8Array(positions.length / 3);
  const snap = snapDistance(positions);
  const mixed = runs.map((triangles) => mixedNear(positions, triangles, plane, snap, side));
  const { cuts, edges } = follow(positions, runs, mixed, side, plane);
  return { vertexCount: side.length, cutPositions: Float32Array.from(cuts.positions), edges };
}

/** Triangles of the blocks the plane passes that are not wholly on one side; sets `side` for their corners. */
function mixedNear(
  positions: Float32Array,
  triangles: Uint32Array,
  plane: Plane,
  snap: number,
  side: Int8Array,
): Uint32Array {
  const mixed: number[] = [];
  const boxes = blockBoxes(positions, triangles);
  for (let block = 0; block * 6 < boxes.length; block++) {
    if (!boxMeetsPlane(boxes, block * 6, plane, snap)) continue;
    const end = Math.min(triangles.length, (block + 1) * BLOCK * 3);
    for (let i = block * BLOCK * 3; i < end; i += 3) {
      let sum = 0;
      for (let k = i; k < i + 3; k++) {
        const v = triangles[k];
        side[v] = sideOf(positions, v, plane, snap);
        sum += side[v];
      }
      if (sum !== 3 && sum !== -3) mixed.push(i);
    }
  }
  return Uint32Array.from(mixed);
}

function boxMeetsPlane(boxes: Float32Array, at: number, { normal, offset }: Plane, snap: number): boolean {
  let low = -offset;
  let high = -offset;
  for (let k = 0; k < 3; k++) {
    const a = normal[k] * boxes[at + k];
    const b = normal[k] * boxes[at + 3 + k];
    low += Math.min(a, b);
    high += Math.max(a, b);
  }
  return low <= snap && high >= -snap;
}

/** The plane's edges through the mixed triangles of each run. */
function follow(
  positions: Float32Array,
  runs: readonly Uint32Array[],
  mixed: readonly Uint32Array[],
  side: Int8Array,
  plane: Plane,
) {
  const cuts = new CutVertices(positions, plane);
  const edges: number[] = [];
  mixed.forEach((triangles, run) => {
    for (const i of triangles) collectEdges(runs[run], i, side, cuts, plane, edges);
  });
  const aliases = cuts.aliases();
  const ids = (id: number) => (id < side.length ? id : side.length + aliases[id - side.length]);
  return { cuts, ids, edges: cancelOpposite(edges.map(ids)) };
}

function sortRun(triangles: Uint32Array, side: Int8Array): TracedRun {
  const mixed: number[] = [];
  let balance = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const sum = side[triangles[i]] + side[triangles[i + 1]] + side[triangles[i + 2]];
    if (sum === 3 || sum === -3) balance += sum;
    else mixed.push(i);
  }
  const whole = triangles.length / 3 - mixed.length;
  const frontCount = (whole + balance / 3) / 2;
  return { frontCount, backCount: whole - frontCount, mixed: Uint32Array.from(mixed) };
}

/** Adds the in-plane edges of one triangle that has material in front, directed as its front piece runs. */
function collectEdges(
  triangles: Uint32Array,
  i: number,
  side: Int8Array,
  cuts: CutVertices,
  plane: Plane,
  edges: number[],
): void {
  const sa = side[triangles[i]];
  const sb = side[triangles[i + 1]];
  const sc = side[triangles[i + 2]];
  const front = Math.max(sa, sb, sc) > 0;
  const back = Math.min(sa, sb, sc) < 0;
  if (!front && back) return;
  if (!front && flatFacesFront(cuts.source, triangles.subarray(i, i + 3), plane)) return;
  let from = -1;
  let to = -1;
  for (let k = 0; k < 3; k++) {
    const a = triangles[i + k];
    const b = triangles[i + ((k + 1) % 3)];
    if (side[a] === 0 && side[b] === 0) edges.push(a, b);
    // The front piece leaves the front side at `from` and comes back at `to`.
    if (side[a] > 0 && side[b] < 0) from = cuts.on(a, b);
    else if (side[a] < 0 && side[b] > 0) to = cuts.on(a, b);
    else if (side[b] === 0 && side[a] > 0 && back) from = b;
    else if (side[a] === 0 && side[b] > 0 && back) to = a;
  }
  if (from >= 0 && to >= 0) edges.push(from, to);
}

/** True when a triangle in the plane is seen from the front: the material behind it is the back part's. */
export function flatFacesFront(positions: Float32Array, v: ArrayLike<number>, plane: Plane): boolean {
  const at = (id: number, axis: number) => positions[id * 3 + axis];
  const e = [0, 1, 2].map((axis) => at(v[1], axis) - at(v[0], axis));
  const f = [0, 1, 2].map((axis) => at(v[2], axis) - at(v[0], axis));
  const [nx, ny, nz] = plane.normal;
  return (
    (e[1] * f[2] - e[2] * f[1]) * nx + (e[2] * f[0] - e[0] * f[2]) * ny + (e[0] * f[1] - e[1] * f[0]) * nz > 0
  );
}

/** An edge walked both ways lies between two triangles of the front: no outline there. */
function cancelOpposite(edges: number[]): Uint32Array {
  const open = new Map<number, number[]>();
  for (let i = 0; i < edges.length; i += 2) {
    const [a, b] = [edges[i], edges[i + 1]];
    if (a === b) continue;
    const back = open.get(b);
    const mate = back?.indexOf(a) ?? -1;
    if (back && mate >= 0) back.splice(mate, 1);
    else if (open.has(a)) open.get(a)?.push(b);
    else open.set(a, [b]);
  }
  const left: number[] = [];
  for (const [a, ends] of open) for (const b of ends) left.push(a, b);
  return Uint32Array.from(left);
}

/** One new vertex per crossed edge, made in double precision from the lower vertex id to the higher. */
class CutVertices {
  readonly source: Float32Array;
  readonly positions: number[] = [];
  private readonly ofEdge = new Map<number, number>();
  private readonly plane: Plane;
  private readonly count: number;

  constructor(source: Float32Array, plane: Plane) {
    this.source = source;
    this.plane = plane;
    this.count = source.length / 3;
  }

  on(a: number, b: number): number {
    const low = Math.min(a, b);
    const high = Math.max(a, b);
    const key = low * this.count + high;
    const known = this.ofEdge.get(key);
    if (known !== undefined) return known;
    const id = this.count + this.positions.length / 3;
    this.ofEdge.set(key, id);
    this.cross(low * 3, high * 3);
    return id;
  }

  private cross(p: number, q: number): void {
    const s = this.source;
    const [nx, ny, nz] = this.plane.normal;
    const dp = nx * s[p] + ny * s[p + 1] + nz * s[p + 2] - this.plane.offset;
    const dq = nx * s[q] + ny * s[q + 1] + nz * s[q + 2] - this.plane.offset;
    const t = dp / (dp - dq);
    for (let axis = 0; axis < 3; axis++) {
      this.positions.push(Math.fround(s[p + axis] + t * (s[q + axis] - s[p + axis])));
    }
  }

  /** Cut vertices that round to the same coordinates are one vertex; answers the one each stands for. */
  aliases(): Uint32Array {
    const p = this.positions;
    const alias = new Uint32Array(p.length / 3);
    /** First vertices by a number made of their coordinates; those it does not tell apart are chained. */
    const firsts = new Map<number, number>();
    const next = new Int32Array(alias.length).fill(-1);
    for (let k = 0; k < alias.length; k++) {
      const key = p[k * 3] + p[k * 3 + 1] * 1_000.003 + p[k * 3 + 2] * 1_000_003.7;
      const first = firsts.get(key) ?? -1;
      let same = first;
      while (same >= 0 && !this.coincide(same, k)) same = next[same];
      alias[k] = same >= 0 ? same : k;
      if (same >= 0) continue;
      next[k] = first;
      firsts.set(key, k);
    }
    return alias;
  }

  private coincide(a: number, b: number): boolean {
    const p = this.positions;
    return p[a * 3] === p[b * 3] && p[a * 3 + 1] === p[b * 3 + 1] && p[a * 3 + 2] === p[b * 3 + 2];
  }
}
