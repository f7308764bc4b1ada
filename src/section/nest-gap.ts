import { TOLERANCES } from '../math/tolerances.ts';
import { cross, dot, sub, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { type Corners, nearest } from '../mesh/near/triangle-distance.ts';
import { buildTriangleTree, cornersOf, distanceToPoint } from '../mesh/near/triangle-tree.ts';
import { borderOf } from '../mesh/part/border.ts';
import { type CompactMesh, compactMesh } from '../mesh/part/part.ts';
import type { Spread } from './gap.ts';

/** The gap between two bodies that nest. */
export interface NestGap {
  /** Over all of the surface that lies farther from its outer edge than the gap closes in; null where none does. */
  inside: Spread | null;
  /** The greatest distance of the outer edge from the other body, mm; null where the surface has no edge. */
  rimMm: number | null;
}

/** Where in a triangle the gap is measured: within it, so that what lies on a sharp edge is not counted as one side of it. */
const SHARES = [
  [1 / 3, 1 / 3, 1 / 3],
  [2 / 3, 1 / 6, 1 / 6],
  [1 / 6, 2 / 3, 1 / 6],
  [1 / 6, 1 / 6, 2 / 3],
];

/** What is nearest lies square to the surface where the way there is no farther from its normal than this (cosine of 11°). */
const SQUARE = 0.98;

/**
 * Measures the gap from samples in the triangles of one body's surface to the nearest point of the other body; the mean
 * is that over its area. Around a sharp edge, where surfaces that are parallel have no point square to them, what is wider
 * than `askedMm` does not count. `closesMm` is how far in from the surface's edge it is not yet the whole gap; `cap` (mm)
 * how far is looked. Of the other body those triangles will do that lie so near.
 */
export function measureNestGap(
  surface: Mesh,
  other: Mesh,
  askedMm: number,
  closesMm: number,
  cap: number,
): NestGap {
  const own = compactMesh(surface);
  const tree = buildTriangleTree(other);
  const rim = rimOf(own);
  const toRim = buildTriangleTree({ positions: own.positions, triangles: rim });
  const isByRim = ([x, y, z]: Vec3) =>
    rim.length > 0 && closesMm > 0 && distanceToPoint(toRim, x, y, z, closesMm) < closesMm;
  let [min, max, sum, weight] = [Number.POSITIVE_INFINITY, 0, 0, 0];
  const c = new Float64Array(9);
  for (let t = 0; t < own.triangles.length / 3; t++) {
    const normal = normalOf(cornersOf(own, t, c));
    const area = Math.hypot(...normal);
    for (const [i, j, k] of SHARES) {
      const [x, y, z] = [0, 1, 2].map((axis) => i * c[axis] + j * c[3 + axis] + k * c[6 + axis]);
      if (isByRim([x, y, z])) continue;
      const mm = Math.min(cap, distanceToPoint(tree, x, y, z, cap));
      const along = Math.abs(dot(sub([nearest.x, nearest.y, nearest.z], [x, y, z]), normal));
      if (mm > askedMm + TOLERANCES.gap && mm < cap && along < SQUARE * mm * area) continue;
      min = Math.min(min, mm);
      max = Math.max(max, mm);
      sum += mm * area;
      weight += area;
    }
  }
  let rimMm = 0;
  for (const v of rim) {
    const [x, y, z] = own.positions.subarray(v * 3, v * 3 + 3);
    rimMm = Math.max(rimMm, Math.min(cap, distanceToPoint(tree, x, y, z, cap)));
  }
  return {
    inside: weight > 0 ? { min, mean: sum / weight, max } : null,
    rimMm: rim.length > 0 ? rimMm : null,
  };
}

/** A triangle's normal, twice its area long. */
const normalOf = (c: Corners): Vec3 =>
  cross([c[3] - c[0], c[4] - c[1], c[5] - c[2]], [c[6] - c[0], c[7] - c[1], c[8] - c[2]]);

/** The edges that only one triangle has, each as a triangle without area. */
function rimOf(mesh: CompactMesh): Uint32Array {
  const { edges } = borderOf(mesh);
  const rim = new Uint32Array((edges.length / 2) * 3);
  for (let i = 0; i < edges.length / 2; i++)
    rim.set([edges[i * 2], edges[i * 2 + 1], edges[i * 2 + 1]], i * 3);
  return rim;
}
