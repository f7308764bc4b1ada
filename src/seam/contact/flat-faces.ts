import type { Plane } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { normalize, scale } from '../../math/vec3.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { blocksBeside } from '../../mesh/near/blocks-beside.ts';
import type { Part } from '../../mesh/part/part.ts';
import { coordinate } from '../../mesh/part/vertices.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';

/** A flat face of a part: triangles that hang together in one plane. */
export interface FlatFace {
  /** Its plane, the normal out of the part. Recentred mm. */
  plane: Plane;
  areaMm2: number;
  /** Index triples. */
  triangles: Uint32Array;
  /** Which triangles these are, patch by patch of the part: the place of each one's first index. Of a seam's face it is all of them. */
  places: Map<number, number[]>;
}

/** Triangles that lean farther from their face's plane than this (cosine of 2°) are not of it, however small. */
const SAME_WAY = 0.9994;

/**
 * The flat faces of a part where it comes near another, the largest first: of its skin what hangs together there, of
 * faces that seams gave it all of each. None below the least area that can be shared.
 */
export function flatFaces(part: Part, other: Part): FlatFace[] {
  const skin = skinBeside(part, other);
  const neighbours = neighboursIn(skin);
  const taken = new Uint8Array(skin.count);
  const bySize = Uint32Array.from({ length: skin.count }, (_, i) => i).sort(
    (a, b) => skin.areas[b] - skin.areas[a],
  );
  const faces = part.patches.flatMap(({ of, triangles }, patch) => {
    if (of.kind !== 'face') return [];
    const whole = new Triangles(part, triangles.length / 3);
    for (let at = 0; at < triangles.length; at += 3) whole.add(triangles, patch, at);
    return [whole.faceOf(Array.from({ length: whole.count }, (_, i) => i))];
  });
  for (const seed of bySize) {
    if (taken[seed] === 1 || skin.areas[seed] === 0) continue;
    // The first plane is that of one triangle, which may be tiny: what it finds has a better one.
    const rough = grow(skin, neighbours, taken, seed, skin.planeOf([seed]));
    const grown = rough.length > 1 ? grow(skin, neighbours, taken, seed, skin.planeOf(rough)) : rough;
    const found = grown.length >= rough.length ? grown : rough;
    for (const i of found) taken[i] = 1;
    if (areaOf(skin, found) >= TOLERANCES.contactArea) faces.push(skin.faceOf(found));
  }
  return faces.sort((a, b) => b.areaMm2 - a.areaMm2);
}

const areaOf = ({ areas }: Triangles, found: readonly number[]): number =>
  found.reduce((sum, i) => sum + areas[i], 0);

/** The triangles of a part's skin in blocks that come as near another part's as parts that touch. */
function skinBeside(part: Part, other: Part): Triangles {
  const others = other.patches.map(({ triangles }) => blocksOf(other, triangles));
  const near = part.patches.map(({ of, triangles }) => {
    const tree = blocksOf(part, triangles);
    const blocks = of.kind === 'skin' ? blocksBeside(tree, others, TOLERANCES.contact) : [];
    return { triangles, blocks: blocks.map((b) => [tree.starts[b], tree.starts[b + 1]] as const) };
  });
  const corners = near.flatMap(({ blocks }) => blocks).reduce((n, [from, to]) => n + to - from, 0);
  const skin = new Triangles(part, corners / 3);
  near.forEach(({ triangles, blocks }, patch) => {
    for (const [from, to] of blocks) for (let at = from; at < to; at += 3) skin.add(triangles, patch, at);
  });
  return skin;
}

/** Triangles of a part with what is asked of them again and again: each at a number of its own. */
class Triangles {
  count = 0;
  /** Three each. */
  readonly corners: Uint32Array;
  /** Unit normals, three numbers each; zeros where there is no area. */
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  readonly #patches: Uint32Array;
  readonly #places: Uint32Array;
  readonly #part: Part;

  constructor(part: Part, most: number) {
    this.#part = part;
    this.corners = new Uint32Array(most * 3);
    this.normals = new Float64Array(most * 3);
    this.areas = new Float64Array(most);
    this.#patches = new Uint32Array(most);
    this.#places = new Uint32Array(most);
  }

  add(triangles: Uint32Array, patch: number, at: number): void {
    const i = this.count++;
    this.#patches[i] = patch;
    this.#places[i] = at;
    for (let k = 0; k < 3; k++) this.corners[i * 3 + k] = triangles[at + k];
    const edge = (to: number, k: number) => this.at(i, to, k) - this.at(i, 0, k);
    const [ux, uy, uz] = [edge(1, 0), edge(1, 1), edge(1, 2)];
    const [vx, vy, vz] = [edge(2, 0), edge(2, 1), edge(2, 2)];
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const twice = Math.hypot(x, y, z);
    this.areas[i] = twice / 2;
    if (twice === 0) return;
    this.normals[i * 3] = x / twice;
    this.normals[i * 3 + 1] = y / twice;
    this.normals[i * 3 + 2] = z / twice;
  }

  /** A coordinate of a triangle's corner, recentred mm. */
  at(i: number, corner: number, k: number): number {
    return coordinate(this.#part, this.corners[i * 3 + corner], k);
  }

  /** True for a triangle that lies in a plane and looks the same way; one without area looks any way. */
  liesIn(i: number, { normal: [x, y, z], offset }: Plane): boolean {
    const { normals, areas } = this;
    const lean = normals[i * 3] * x + normals[i * 3 + 1] * y + normals[i * 3 + 2] * z;
    if (areas[i] > 0 && lean < SAME_WAY) return false;
    for (let c = 0; c < 3; c++) {
      const height = x * this.at(i, c, 0) + y * this.at(i, c, 1) + z * this.at(i, c, 2) - offset;
      if (Math.abs(height) > TOLERANCES.flat) return false;
    }
    return true;
  }

  /** The plane that triangles lie in, by their areas. */
  planeOf(some: readonly number[]): Plane {
    const sum: [number, number, number] = [0, 0, 0];
    for (const i of some) for (let k = 0; k < 3; k++) sum[k] += this.areas[i] * this.normals[i * 3 + k];
    const normal = normalize(sum);
    let [height, weight] = [0, 0];
    for (const i of some) {
      for (let c = 0; c < 3; c++)
        for (let k = 0; k < 3; k++) height += (this.areas[i] * normal[k] * this.at(i, c, k)) / 3;
      weight += this.areas[i];
    }
    return { normal, offset: height / weight };
  }

  faceOf(some: readonly number[]): FlatFace {
    const places = new Map<number, number[]>();
    const triangles = new Uint32Array(some.length * 3);
    some.forEach((i, n) => {
      triangles.set(this.corners.subarray(i * 3, i * 3 + 3), n * 3);
      const known = places.get(this.#patches[i]);
      if (known) known.push(this.#places[i]);
      else places.set(this.#patches[i], [this.#places[i]]);
    });
    return { plane: this.planeOf(some), areaMm2: areaOf(this, some), triangles, places };
  }
}

/** The triangles over each one's three edges; −1 where there is none. */
function neighboursIn({ corners, count }: Triangles): Int32Array {
  const edges = new PairTable(count * 3);
  const owners = new Int32Array(count * 3);
  const next = (e: number) => (e % 3 === 2 ? e - 2 : e + 1);
  for (let e = 0; e < count * 3; e++) owners[edges.number(corners[e], corners[next(e)])] = (e / 3) | 0;
  const neighbours = new Int32Array(count * 3);
  for (let e = 0; e < count * 3; e++) {
    const edge = edges.find(corners[next(e)], corners[e]);
    neighbours[e] = edge < 0 ? -1 : owners[edge];
  }
  return neighbours;
}

/** The triangles that hang together with `seed` in a plane and are not taken. */
function grow(
  skin: Triangles,
  neighbours: Int32Array,
  taken: Uint8Array,
  seed: number,
  plane: Plane,
): number[] {
  const found = [seed];
  taken[seed] = SEEN;
  for (let i = 0; i < found.length; i++) {
    for (let k = 0; k < 3; k++) {
      const next = neighbours[found[i] * 3 + k];
      if (next < 0 || taken[next] !== 0 || !skin.liesIn(next, plane)) continue;
      taken[next] = SEEN;
      found.push(next);
    }
  }
  for (const i of found) taken[i] = 0;
  return found;
}

/** In place of taken, while one face is being grown. */
const SEEN = 2;

/** The plane seen from its other side. */
export const turned = ({ normal, offset }: Plane): Plane => ({ normal: scale(normal, -1), offset: -offset });
