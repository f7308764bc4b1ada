import { type PlaneFrame, toFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Crossing } from './crossing.ts';
import { PairTable } from './pair-table.ts';
import { coordinate, type Vertices } from './vertices.ts';

/** Closed chains of vertex ids; counter-clockwise around material seen from the front. */
export type Ring = Uint32Array;

/**
 * Chains directed edges (two ids each) into closed rings; chains that stay open are left out.
 * Where several rings meet in a vertex the next edge is the one that turns most to the left, so that
 * rings touch but do not cross.
 */
export function chainRings(edges: Uint32Array, vertices: Vertices, frame: PlaneFrame): Ring[] {
  const chains = new Chains(edges);
  const at = (id: number) => pointIn(frame, vertices, id);
  const path = new Uint32Array(edges.length / 2);
  const rings: Ring[] = [];
  for (let start = 0; start < edges.length; start += 2) {
    const first = edges[start];
    while (chains.hasEdge(first)) {
      const length = walk(chains, first, at, path);
      if (length >= 3) rings.push(path.slice(0, length));
    }
  }
  return rings;
}

/** Takes the edges of one ring out of the chains; answers its length, 0 where it does not close. */
function walk(chains: Chains, start: number, at: (id: number) => Vec2, path: Uint32Array): number {
  let length = 0;
  path[length++] = start;
  let current = chains.take(start);
  while (current !== start) {
    const previous = path[length - 1];
    path[length++] = current;
    if (!chains.hasEdge(current)) return 0;
    const ends = chains.several(current);
    current = ends
      ? chains.take(current, leftmost(at(previous), at(current), ends, at))
      : chains.take(current);
  }
  return length;
}

/** Edges not walked yet, by where they start. */
class Chains {
  readonly #edges: Uint32Array;
  readonly #starts: PairTable;
  /** Per start, one more than the number of its first edge; 0 where none is left. */
  readonly #first: Uint32Array;
  /** Per edge, the next with the same start, in the same way. */
  readonly #next: Uint32Array;

  constructor(edges: Uint32Array) {
    const count = edges.length / 2;
    this.#edges = edges;
    this.#starts = new PairTable(count);
    this.#first = new Uint32Array(count);
    this.#next = new Uint32Array(count);
    for (let edge = 0; edge < count; edge++) {
      const start = this.#starts.number(edges[edge * 2], 0);
      this.#next[edge] = this.#first[start];
      this.#first[start] = edge + 1;
    }
  }

  hasEdge(start: number): boolean {
    const number = this.#starts.find(start, 0);
    return number >= 0 && this.#first[number] > 0;
  }

  /** Ends of a start's edges, or null where it has just one. */
  several(start: number): number[] | null {
    let edge = this.#first[this.#starts.find(start, 0)];
    if (this.#next[edge - 1] === 0) return null;
    const ends: number[] = [];
    for (; edge > 0; edge = this.#next[edge - 1]) ends.push(this.#edges[edge * 2 - 1]);
    return ends;
  }

  /** Takes out an edge, the `nth` of those `several` lists, and answers its end. */
  take(start: number, nth = 0): number {
    const number = this.#starts.find(start, 0);
    let before = 0;
    let edge = this.#first[number];
    for (let n = 0; n < nth; n++) {
      before = edge;
      edge = this.#next[edge - 1];
    }
    if (before === 0) this.#first[number] = this.#next[edge - 1];
    else this.#next[before - 1] = this.#next[edge - 1];
    return this.#edges[edge * 2 - 1];
  }
}

function leftmost(from: Vec2, via: Vec2, ends: readonly number[], at: (id: number) => Vec2): number {
  const heading = Math.atan2(via[1] - from[1], via[0] - from[0]);
  const turns = ends.map((id) => {
    const end = at(id);
    const turn = Math.atan2(end[1] - via[1], end[0] - via[0]) - heading;
    return Math.atan2(Math.sin(turn), Math.cos(turn));
  });
  return turns.indexOf(Math.max(...turns));
}

/** A vertex in a frame, mm. */
const pointIn = (frame: PlaneFrame, vertices: Vertices, id: number): Vec2 =>
  toFrame(frame, [coordinate(vertices, id, 0), coordinate(vertices, id, 1), coordinate(vertices, id, 2)]);

/** Vertices in a frame, flat x, y pairs, mm. */
export function pointsIn(frame: PlaneFrame, vertices: Vertices, ids: Uint32Array): Float64Array {
  const { origin, u, v } = frame;
  const points = new Float64Array(ids.length * 2);
  for (let i = 0; i < ids.length; i++) {
    const x = coordinate(vertices, ids[i], 0) - origin[0];
    const y = coordinate(vertices, ids[i], 1) - origin[1];
    const z = coordinate(vertices, ids[i], 2) - origin[2];
    points[i * 2] = x * u[0] + y * u[1] + z * u[2];
    points[i * 2 + 1] = x * v[0] + y * v[1] + z * v[2];
  }
  return points;
}

/** Rings of a crossing, and the frame coordinates (mm) of their points. */
export function outlineOf(
  { edges, vertices }: Crossing,
  frame: PlaneFrame,
): { rings: Ring[]; loops: Loop[] } {
  const rings = chainRings(edges, vertices, frame);
  return { rings, loops: rings.map((ring) => pointsIn(frame, vertices, ring)) };
}
