import type { Plane } from '../../math/plane.ts';
import { coordinate, type Vertices, vertexCount } from '../part/vertices.ts';
import { PairTable } from '../topology/pair-table.ts';
import { PlaceTable } from '../topology/place-table.ts';

/**
 * One new vertex per crossed edge, made in double precision from the lower vertex to the higher,
 * so that both triangles of an edge get the very same one. Numbered on from the mesh's own.
 */
export class CutVertices {
  readonly vertices: Vertices;
  readonly #plane: Plane;
  readonly #ownCount: number;
  readonly #edges: PairTable;
  #positions: Float32Array;

  /** @param expected about how many edges will be crossed. */
  constructor(vertices: Vertices, plane: Plane, expected: number) {
    this.vertices = vertices;
    this.#plane = plane;
    this.#ownCount = vertexCount(vertices);
    this.#edges = new PairTable(expected);
    this.#positions = new Float32Array(expected * 3);
  }

  /** x, y, z per cut vertex so far, mm. */
  get positions(): Float32Array {
    return this.#positions.subarray(0, this.#edges.count * 3);
  }

  /** The cut vertex on the edge between a and b, whichever comes first. */
  on(a: number, b: number): number {
    const count = this.#edges.count;
    const number = a < b ? this.#edges.number(a, b) : this.#edges.number(b, a);
    if (number === count) this.#cross(number, Math.min(a, b), Math.max(a, b));
    return this.#ownCount + number;
  }

  #cross(number: number, p: number, q: number): void {
    if (number * 3 >= this.#positions.length) {
      const grown = new Float32Array(Math.max(48, this.#positions.length * 2));
      grown.set(this.#positions);
      this.#positions = grown;
    }
    const { normal, offset } = this.#plane;
    const { vertices } = this;
    const px = coordinate(vertices, p, 0);
    const py = coordinate(vertices, p, 1);
    const pz = coordinate(vertices, p, 2);
    const dx = coordinate(vertices, q, 0);
    const dy = coordinate(vertices, q, 1);
    const dz = coordinate(vertices, q, 2);
    const dp = normal[0] * px + normal[1] * py + normal[2] * pz - offset;
    const dq = normal[0] * dx + normal[1] * dy + normal[2] * dz - offset;
    const t = dp / (dp - dq);
    const at = number * 3;
    this.#positions[at] = px + t * (dx - px);
    this.#positions[at + 1] = py + t * (dy - py);
    this.#positions[at + 2] = pz + t * (dz - pz);
  }

  /** Cut vertices that round to the same coordinates are one vertex; answers the number each stands for. */
  aliases(): Uint32Array {
    const p = this.positions;
    const alias = new Uint32Array(p.length / 3);
    const firstAt = new Uint32Array(alias.length);
    const places = new PlaceTable(alias.length);
    for (let k = 0; k < alias.length; k++) {
      const known = places.count;
      const place = places.number(p[k * 3], p[k * 3 + 1], p[k * 3 + 2]);
      if (place === known) firstAt[place] = k;
      alias[k] = firstAt[place];
    }
    return alias;
  }
}
