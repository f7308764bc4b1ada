import { dot } from '../../math/vec3.ts';
import { coordinate, type Vertices, vertexCount } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';
import { PlaceTable } from '../../mesh/topology/place-table.ts';
import type { PlanView } from './plan-view.ts';
import type { Profile } from './profile.ts';
import { chainPointBeside, sideOf } from './signs.ts';

/** A place where a segment of the chain crosses an edge of the mesh. */
export interface EdgeCrossing {
  segment: number;
  /** The vertex that is made there. */
  id: number;
  /** How far along the edge from its lower vertex to its higher, 0 to 1. */
  t: number;
}

const NO_CROSSINGS: readonly EdgeCrossing[] = [];

/**
 * The vertices that a sheet adds to a mesh, numbered on from its own: where segments of the chain cross edges, made once
 * an edge so that both its triangles have the same; and where corners of the chain pass through triangles.
 */
export class SheetVertices {
  readonly ownCount: number;
  readonly #vertices: Vertices;
  readonly #view: PlanView;
  readonly #profile: Profile;
  readonly #edges = new PairTable(1024);
  readonly #crossings: (readonly EdgeCrossing[])[] = [];
  #positions = new Float32Array(3072);
  #count = 0;
  /** Per added vertex, the own vertex it falls on, or −1. */
  readonly #onOwn: number[] = [];
  readonly #snap: number;

  constructor(vertices: Vertices, view: PlanView, profile: Profile) {
    this.#vertices = vertices;
    this.#view = view;
    this.#profile = profile;
    this.ownCount = vertexCount(vertices);
    this.#snap = snapDistance(vertices);
  }

  /** x, y, z per added vertex so far, mm. */
  get positions(): Float32Array {
    return this.#positions.subarray(0, this.#count * 3);
  }

  /** Where the chain crosses an edge, in order from its lower vertex to its higher; `segments` are all that may. */
  on(a: number, b: number, segments: readonly number[]): readonly EdgeCrossing[] {
    const [low, high] = a < b ? [a, b] : [b, a];
    const number = this.#edges.number(low, high);
    if (number === this.#crossings.length) this.#crossings.push(this.#crossingsOf(low, high, segments));
    return this.#crossings[number];
  }

  /** A vertex within a triangle, by the weights of its corners (of sum 1), and how far along the sweep it lies, mm. */
  within(corners: readonly number[], weights: readonly number[]): { id: number; height: number } {
    const [x, y, z] = [0, 1, 2].map((k) =>
      corners.reduce((sum, v, i) => sum + weights[i] * coordinate(this.#vertices, v, k), 0),
    );
    return { id: this.#add(x, y, z, corners), height: dot(this.#profile.frame.n, [x, y, z]) };
  }

  /** What each added vertex goes by: the mesh's own vertex that it falls on, or the first added one in its place. */
  aliases(): Uint32Array {
    const p = this.positions;
    const alias = new Uint32Array(this.#count);
    const firstAt = new Uint32Array(this.#count);
    const places = new PlaceTable(this.#count);
    for (let k = 0; k < this.#count; k++) {
      if (this.#onOwn[k] >= 0) {
        alias[k] = this.#onOwn[k];
        continue;
      }
      const known = places.count;
      const place = places.number(p[k * 3], p[k * 3 + 1], p[k * 3 + 2]);
      if (place === known) firstAt[place] = k;
      alias[k] = this.ownCount + firstAt[place];
    }
    return alias;
  }

  #crossingsOf(low: number, high: number, segments: readonly number[]): readonly EdgeCrossing[] {
    const profile = this.#profile;
    const { x, y } = this.#view;
    const [ax, ay, bx, by] = [x[low], y[low], x[high], y[high]];
    const found: { segment: number; t: number }[] = [];
    for (const j of segments) {
      if (sideOf(profile, j, ax, ay) === sideOf(profile, j, bx, by)) continue;
      const from = chainPointBeside(profile, j, ax, ay, bx, by);
      if (from === chainPointBeside(profile, j + 1, ax, ay, bx, by)) continue;
      found.push({ segment: j, t: this.#along(j, ax, ay, bx, by) });
    }
    if (found.length === 0) return NO_CROSSINGS;
    if (found.length > 1) found.sort((one, other) => this.#order(one, other, ax, ay, bx, by));
    return found.map(({ segment, t }) => {
      const at = [0, 1, 2].map((k) => {
        const p = coordinate(this.#vertices, low, k);
        return p + t * (coordinate(this.#vertices, high, k) - p);
      });
      return { segment, t, id: this.#add(at[0], at[1], at[2], [low, high]) };
    });
  }

  /** How far along an edge a segment crosses it; where the two are all but parallel, within what the segment reaches. */
  #along(j: number, ax: number, ay: number, bx: number, by: number): number {
    const { x, y } = this.#profile;
    const [dx, dy] = [x[j + 1] - x[j], y[j + 1] - y[j]];
    const da = dx * (ay - y[j]) - dy * (ax - x[j]);
    const db = dx * (by - y[j]) - dy * (bx - x[j]);
    const [ex, ey] = [bx - ax, by - ay];
    const along = (k: number) => ((x[k] - ax) * ex + (y[k] - ay) * ey) / (ex * ex + ey * ey);
    const [p, q] = [along(j), along(j + 1)];
    const t = da === db ? (p + q) / 2 : da / (da - db);
    return Math.min(1, Math.max(0, Math.min(Math.max(p, q), Math.max(Math.min(p, q), t))));
  }

  /**
   * Which of two crossings comes first along an edge. Two segments that follow each other may cross it as near to each
   * other as you like: the corner between them is then across the edge, and the way the chain turns there decides.
   */
  #order(
    one: { segment: number; t: number },
    other: { segment: number; t: number },
    ax: number,
    ay: number,
    bx: number,
    by: number,
  ): number {
    if (Math.abs(one.segment - other.segment) !== 1) return one.t - other.t;
    const first = Math.min(one.segment, other.segment);
    const corner = first + 1;
    const { x, y } = this.#profile;
    const beside = chainPointBeside(this.#profile, corner, ax, ay, bx, by);
    const turns = sideOf(this.#profile, first, x[corner + 1], y[corner + 1]);
    const isForward = beside * turns < 0;
    return (one.segment === first) === isForward ? -1 : 1;
  }

  #add(px: number, py: number, pz: number, near: readonly number[]): number {
    if (this.#count * 3 >= this.#positions.length) {
      const grown = new Float32Array(this.#positions.length * 2);
      grown.set(this.#positions);
      this.#positions = grown;
    }
    const at = this.#count * 3;
    this.#positions[at] = px;
    this.#positions[at + 1] = py;
    this.#positions[at + 2] = pz;
    const on = near.find((v) =>
      [px, py, pz].every((c, k) => Math.abs(coordinate(this.#vertices, v, k) - c) <= this.#snap),
    );
    this.#onOwn.push(on ?? -1);
    return this.ownCount + this.#count++;
  }
}
