import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { buildTriangleTree, distanceToPoint, type TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { generalisedWinding, type WindingTree } from '../winding/generalised-winding.ts';
import { RE_SKIN } from './tuning.ts';

/** How far two skins lie from each other, measured both ways. */
export interface Deviation {
  /** Greatest distance from a sample of either skin to the other: the Hausdorff distance, sampled. */
  maxMm: number;
  /** Mean distance over the area of both. */
  meanMm: number;
  /** The sample that is farthest off; null where nothing was measured. */
  at: Vec3 | null;
}

/** Samples are no farther apart than about this many cells. */
const SPACING = 1.5;
/** A sample of the old skin farther off than this many cells, or than all before it, is looked at before it counts. */
const LOOKED_AT = 0.5;

/**
 * Measures between the old skin and the new, at the middles of triangles cut to pieces of at most 1.5 cells, and at
 * the old one's corners. Distances are exact, from point to triangle. A sample of the old skin counts for the
 * greatest distance only if the winding number just beside it says inside on one side and outside on the other: sheets
 * within a body (where two bodies overlap) or without one (a doubled sheet) are no skin. For the mean that is asked
 * only of samples farther off than half a cell. Where the new skin closes a hole its distance from the rim counts.
 */
export function measureDeviation(
  old: WindingTree,
  skin: Mesh,
  cellMm: number,
  onProgress: (done: number) => void = () => {},
): Deviation {
  const forth = new Sampler(old.tree, null, cellMm);
  forth.sampleFaces(skin, (done) => onProgress(done * 0.5));
  const back = new Sampler(buildTriangleTree(skin), old, cellMm);
  back.sampleFaces(old.tree.mesh, (done) => onProgress(0.5 + done * 0.5));
  back.sampleCorners(old.tree.mesh);
  const area = forth.area + back.area;
  return {
    maxMm: Math.max(forth.worst, back.worst),
    meanMm: area > 0 ? (forth.sum + back.sum) / area : 0,
    at: back.worst > forth.worst ? back.at : forth.at,
  };
}

/** Measures from samples on a mesh to `target`. */
class Sampler {
  worst = 0;
  at: Vec3 | null = null;
  /** Σ distance × area, mm³, over `area`, mm². */
  sum = 0;
  area = 0;
  readonly #target: TriangleTree;
  readonly #winding: WindingTree | null;
  readonly #cellMm: number;
  readonly #normal = new Float64Array(3);

  /** @param winding of the mesh sampled, where its samples have to be skin to count. */
  constructor(target: TriangleTree, winding: WindingTree | null, cellMm: number) {
    this.#target = target;
    this.#winding = winding;
    this.#cellMm = cellMm;
  }

  sampleFaces({ positions: p, triangles: t }: Mesh, onProgress: (done: number) => void): void {
    for (let i = 0; i < t.length; i += 3) {
      if (i % 12288 === 0) onProgress(i / t.length);
      const pieces = Math.ceil(longestEdge(p, t, i) / (SPACING * this.#cellMm)) || 1;
      const share = this.#setNormal(p, t, i) / 2 / (pieces * pieces);
      for (let a = 0; a < pieces; a++) {
        for (let b = 0; a + b < pieces; b++) {
          this.#sampleFace(p, t, i, (a + 1 / 3) / pieces, (b + 1 / 3) / pieces, share);
          if (a + b + 1 < pieces)
            this.#sampleFace(p, t, i, (a + 2 / 3) / pieces, (b + 2 / 3) / pieces, share);
        }
      }
    }
  }

  /** Every vertex once: points and spikes are farthest off there. They have no area and no part in the mean. */
  sampleCorners({ positions: p, triangles: t }: Mesh): void {
    const seen = new Uint8Array(p.length / 3);
    for (let i = 0; i < t.length; i++) {
      if (seen[t[i]]) continue;
      seen[t[i]] = 1;
      const face = i - (i % 3);
      this.#setNormal(p, t, face);
      // A hair's breadth from the corner into the triangle, for there are its two sides.
      const corner = i % 3;
      const inward = 1e-3;
      const b = corner === 1 ? 1 - 2 * inward : inward;
      const c = corner === 2 ? 1 - 2 * inward : inward;
      this.#sampleFace(p, t, face, b, c, 0);
    }
  }

  /** Keeps a triangle's unit normal (zero if it has none) and answers twice its area. */
  #setNormal(p: Float32Array, t: Uint32Array, i: number): number {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const n = this.#normal;
    for (let k = 0; k < 3; k++) {
      const u = (k + 1) % 3;
      const v = (k + 2) % 3;
      n[k] = (p[b + u] - p[a + u]) * (p[c + v] - p[a + v]) - (p[b + v] - p[a + v]) * (p[c + u] - p[a + u]);
    }
    const length = Math.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    for (let k = 0; k < 3; k++) n[k] /= length || 1;
    return length;
  }

  /** A point by the weights of a triangle's second and third corner, standing for `area` mm². */
  #sampleFace(p: Float32Array, t: Uint32Array, i: number, wb: number, wc: number, area: number): void {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const wa = 1 - wb - wc;
    const x = wa * p[a] + wb * p[b] + wc * p[c];
    const y = wa * p[a + 1] + wb * p[b + 1] + wc * p[c + 1];
    const z = wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2];
    const d = this.#distance(x, y, z);
    const looked = d > this.worst || d > LOOKED_AT * this.#cellMm;
    if (looked && this.#winding && !this.#isSkin(this.#winding, x, y, z)) return;
    this.sum += d * area;
    this.area += area;
    if (d <= this.worst) return;
    this.worst = d;
    this.at = [x, y, z];
  }

  /** Distance to the target, looked for ever farther out: most samples are near, and near is quickly searched. */
  #distance(x: number, y: number, z: number): number {
    for (let cap = this.#cellMm / 16; ; cap *= 4) {
      const distance = distanceToPoint(this.#target, x, y, z, cap);
      if (distance < cap) return distance;
    }
  }

  #isSkin(winding: WindingTree, x: number, y: number, z: number): boolean {
    const [nx, ny, nz] = this.#normal;
    const d = RE_SKIN.aside * this.#cellMm;
    const front = generalisedWinding(winding, x + d * nx, y + d * ny, z + d * nz) >= RE_SKIN.inside;
    const behind = generalisedWinding(winding, x - d * nx, y - d * ny, z - d * nz) >= RE_SKIN.inside;
    return front !== behind;
  }
}

function longestEdge(p: Float32Array, t: Uint32Array, i: number): number {
  let squared = 0;
  for (let k = 0; k < 3; k++) {
    const a = t[i + k] * 3;
    const b = t[i + ((k + 1) % 3)] * 3;
    const d2 = (p[a] - p[b]) ** 2 + (p[a + 1] - p[b + 1]) ** 2 + (p[a + 2] - p[b + 2]) ** 2;
    if (d2 > squared) squared = d2;
  }
  return Math.sqrt(squared);
}
