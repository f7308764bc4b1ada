import { float32Step } from '../../math/tolerances.ts';
import { buildTriangleTree, distanceToPoint, type TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';
import { NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { openEdges } from '../face.ts';
import { mitresOf } from './mitres.ts';
import { splitEdges } from './split-edges.ts';

/** Along the rim, edges are no longer than this share of how far in the gap closes. */
const FINE = 1 / 4;

/** Edges are halved so often at the most: from 64 m to a millimetre. */
const ROUNDS = 16;

/**
 * Draws the surface that follows another body back into its own part by a gap that grows from nothing at the surface's
 * edge, which stays, to all of `gapMm` at `rimMm` from there: in proportion to the distance from the edge, over three
 * quarters of the way, so that no triangle that reaches farther in is short of it. Along the edge triangles are divided
 * finely enough for that. `isDrawn` tells the patches; the part's vertices are all its own (`added` has none).
 */
export function openGap(
  part: Part,
  isDrawn: (patch: Patch) => boolean,
  gapMm: number,
  rimMm: number,
): { part: Part; moved: Uint32Array } {
  const drawn = (patches: readonly Patch[]) => patches.filter(isDrawn).map(({ triangles }) => triangles);
  const rim = rimTree(part.positions, openEdges(joinIndices(drawn(part.patches))));
  const vertices = new Growing(part.positions, rim);
  let { patches } = part;
  const isLong = (a: number, b: number) => {
    const long = vertices.apart(a, b);
    // No point of the edge lies nearer to the rim than this.
    const nearest = (vertices.off(a) + vertices.off(b) - long) / 2;
    return long > rimMm * FINE && nearest < rimMm;
  };
  for (let round = 0; round < ROUNDS; round++) {
    const split = splitEdges(patches, drawn(patches), vertices.count, isLong);
    if (!split) break;
    for (let edge = 0; edge < split.edges.count; edge++)
      vertices.addMiddle(split.edges.first(edge), split.edges.second(edge));
    patches = split.patches;
  }
  const moved = joinIndices(drawn(patches));
  const places = Float32Array.from(vertices.places);
  const mitres = mitresOf(places, moved);
  for (const v of new Set(moved)) {
    const share = Math.min(1, vertices.off(v) / (rimMm * (1 - FINE)));
    for (let k = v * 3; k < v * 3 + 3; k++) places[k] -= gapMm * share * mitres[k];
  }
  return { part: { positions: places, added: NOTHING_ADDED, patches }, moved };
}

/** Vertices, with how far each lies from the rim. */
class Growing {
  readonly places: number[];
  readonly #rim: TriangleTree;
  readonly #off = new Map<number, number>();

  constructor(positions: Float32Array, rim: TriangleTree) {
    this.places = Array.from(positions);
    this.#rim = rim;
  }

  get count(): number {
    return this.places.length / 3;
  }

  /** Distance from the rim, mm; nothing for what lies on it to rounding. */
  off(v: number): number {
    let off = this.#off.get(v);
    if (off === undefined) {
      const [x, y, z] = [this.places[v * 3], this.places[v * 3 + 1], this.places[v * 3 + 2]];
      const far = distanceToPoint(this.#rim, x, y, z, Number.MAX_VALUE);
      off = far <= 2 * float32Step(Math.max(Math.abs(x), Math.abs(y), Math.abs(z))) ? 0 : far;
      this.#off.set(v, off);
    }
    return off;
  }

  apart(a: number, b: number): number {
    const p = this.places;
    return Math.hypot(p[a * 3] - p[b * 3], p[a * 3 + 1] - p[b * 3 + 1], p[a * 3 + 2] - p[b * 3 + 2]);
  }

  addMiddle(a: number, b: number): void {
    for (let k = 0; k < 3; k++)
      this.places.push(Math.fround((this.places[a * 3 + k] + this.places[b * 3 + k]) / 2));
  }
}

/** A tree over edges, each a triangle without area. */
function rimTree(positions: Float32Array, edges: Uint32Array): TriangleTree {
  const triangles = new Uint32Array((edges.length / 2) * 3);
  for (let i = 0; i < edges.length / 2; i++)
    triangles.set([edges[i * 2], edges[i * 2 + 1], edges[i * 2 + 1]], i * 3);
  return buildTriangleTree({ positions, triangles });
}
