import { type PlaneFrame, toFrame } from '../../math/plane.ts';
import type { Loop } from '../../math/polygon.ts';
import type { Vec2 } from '../../math/vec3.ts';
import { coordinate, type Vertices, vertexCount } from '../part/vertices.ts';
import { type DenseIds, denseIds } from '../topology/dense-ids.ts';
import type { Crossing } from './crossing.ts';

/** Closed chains of vertex ids; counter-clockwise around material seen from the front. */
export type Ring = Uint32Array;

/**
 * Chains directed edges (two ids each) into closed rings; chains that stay open are left out.
 * Where several rings meet in a vertex the next edge is the one that turns most to the left, so that
 * rings touch but do not cross. Vertices from `firstCut` on are those most edges run between.
 */
export function chainRings(
  edges: Uint32Array,
  vertices: Vertices,
  frame: PlaneFrame,
  firstCut = vertexCount(vertices),
): Ring[] {
  const chains = new Chains(edges, denseIds(edges, firstCut, vertexCount(vertices)));
  const at = (id: number) => pointIn(frame, vertices, id);
  const path = new Uint32Array(edges.length / 2);
  const rings: Ring[] = [];
  for (let edge = 0; edge < edges.length / 2; edge++) {
    while (chains.hasEdge(edge)) {
      const length = walk(chains, edge, at, path);
      if (length >= 3) rings.push(path.slice(0, length));
    }
  }
  return rings;
}

/** Takes the edges of one ring out of the chains, from where an edge starts; answers its length, 0 where it does not close. */
function walk(chains: Chains, start: number, at: (id: number) => Vec2, path: Uint32Array): number {
  const { edges, numbers } = chains;
  const home = numbers[start * 2];
  let length = 0;
  path[length++] = edges[start * 2];
  let edge = chains.take(home);
  while (numbers[edge * 2 + 1] !== home) {
    const previous = path[length - 1];
    const current = edges[edge * 2 + 1];
    const number = numbers[edge * 2 + 1];
    path[length++] = current;
    if (!chains.leaves(number)) return 0;
    const ends = chains.several(number);
    edge = ends ? chains.take(number, leftmost(at(previous), at(current), ends, at)) : chains.take(number);
  }
  return length;
}

/** Edges not walked yet, by the number of the vertex they start at. */
class Chains {
  readonly edges: Uint32Array;
  readonly numbers: Uint32Array;
  /** Per start, one more than the number of its first edge; 0 where none is left. */
  readonly #first: Uint32Array;
  /** Per edge, the next with the same start, in the same way. */
  readonly #next: Uint32Array;

  constructor(edges: Uint32Array, { numbers, count }: DenseIds) {
    this.edges = edges;
    this.numbers = numbers;
    this.#first = new Uint32Array(count);
    this.#next = new Uint32Array(edges.length / 2);
    for (let edge = 0; edge < this.#next.length; edge++) {
      const start = numbers[edge * 2];
      this.#next[edge] = this.#first[start];
      this.#first[start] = edge + 1;
    }
  }

  /** True where an edge is left that starts where this one does. */
  hasEdge(edge: number): boolean {
    return this.leaves(this.numbers[edge * 2]);
  }

  /** True where an edge is left that starts at a vertex. */
  leaves(start: number): boolean {
    return this.#first[start] > 0;
  }

  /** Ends of a start's edges, or null where it has just one. */
  several(start: number): number[] | null {
    let edge = this.#first[start];
    if (this.#next[edge - 1] === 0) return null;
    const ends: number[] = [];
    for (; edge > 0; edge = this.#next[edge - 1]) ends.push(this.edges[edge * 2 - 1]);
    return ends;
  }

  /** Takes out and answers an edge, the `nth` of those `several` lists. */
  take(start: number, nth = 0): number {
    let before = 0;
    let edge = this.#first[start];
    for (let n = 0; n < nth; n++) {
      before = edge;
      edge = this.#next[edge - 1];
    }
    if (before === 0) this.#first[start] = this.#next[edge - 1];
    else this.#next[before - 1] = this.#next[edge - 1];
    return edge - 1;
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
  { edges, vertices, ownCount }: Crossing,
  frame: PlaneFrame,
): { rings: Ring[]; loops: Loop[] } {
  const rings = chainRings(edges, vertices, frame, ownCount);
  return { rings, loops: rings.map((ring) => pointsIn(frame, vertices, ring)) };
}
