import type { PlaneFrame } from '../../math/plane.ts';
import { scale, type Vec3 } from '../../math/vec3.ts';
import { coordinate, type Vertices } from '../part/vertices.ts';
import { blocksOf, blocksWhere } from './blocks.ts';

/** Where a ray passes through a triangle. */
export interface RayHit {
  /** The triangle's corner that lies farthest along the ray. */
  farthest: number;
  /** mm from the ray's start. */
  distance: number;
  /** True where the ray comes out of what the triangle bounds, false where it goes in. */
  leaves: boolean;
}

/**
 * Where a ray along a frame's normal (`way` 1) or against it (−1) passes through triangles. A ray through an edge of a
 * closed surface hits exactly one of the two triangles that it goes from one to the other of: corners are held against
 * it by signs that do not depend on which triangle asks (the crossing rule of `windingAt`).
 */
export function rayHits(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  from: Vec3,
  { u, v, n }: PlaneFrame,
  way: 1 | -1,
): RayHit[] {
  const along = scale(n, way);
  const hits: RayHit[] = [];
  /** Each corner's place across the ray (x, y) and along it, mm. */
  const at = new Float64Array(9);
  for (const triangles of runs) {
    const tree = blocksOf(vertices, triangles);
    for (const block of blocksWhere(tree, boxMeetsRay(from, along))) {
      for (let i = tree.starts[block]; i < tree.starts[block + 1]; i += 3) {
        for (let k = 0; k < 3; k++) {
          const x = coordinate(vertices, triangles[i + k], 0) - from[0];
          const y = coordinate(vertices, triangles[i + k], 1) - from[1];
          const z = coordinate(vertices, triangles[i + k], 2) - from[2];
          at[k * 3] = x * u[0] + y * u[1] + z * u[2];
          at[k * 3 + 1] = x * v[0] + y * v[1] + z * v[2];
          at[k * 3 + 2] = x * along[0] + y * along[1] + z * along[2];
        }
        const hit = hitOf(at);
        if (!hit || hit.distance <= 0) continue;
        const corner = at[2] >= at[5] ? (at[2] >= at[8] ? 0 : 2) : at[5] >= at[8] ? 1 : 2;
        hits.push({ farthest: triangles[i + corner], distance: hit.distance, leaves: hit.winding * way > 0 });
      }
    }
  }
  return hits;
}

/** How a triangle winds round the ray, seen against the frame's normal, and where it is passed through; null where it is missed. */
function hitOf(at: Float64Array): { winding: number; distance: number } | null {
  let winding = 0;
  let weights = 0;
  let distance = 0;
  for (let k = 0; k < 3; k++) {
    const i = k * 3;
    const j = ((k + 1) % 3) * 3;
    const cross = at[i] * at[j + 1] - at[j] * at[i + 1];
    const opposite = ((k + 2) % 3) * 3;
    weights += cross;
    distance += cross * at[opposite + 2];
    if (at[i + 1] <= 0 === at[j + 1] <= 0) continue;
    if (at[i + 1] <= 0 ? cross > 0 : cross < 0) winding += at[i + 1] <= 0 ? 1 : -1;
  }
  return winding === 0 || weights === 0 ? null : { winding, distance: distance / weights };
}

/** Tells whether a box meets a ray (Kay and Kajiya's slabs, *SIGGRAPH* 1986). */
function boxMeetsRay(from: Vec3, along: Vec3): (boxes: Float32Array, at: number) => boolean {
  return (boxes, at) => {
    let near = 0;
    let far = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 3; k++) {
      const [low, high] = [boxes[at + k] - from[k] - SLACK, boxes[at + 3 + k] - from[k] + SLACK];
      if (along[k] === 0) {
        if (low > 0 || high < 0) return false;
        continue;
      }
      near = Math.max(near, Math.min(low / along[k], high / along[k]));
      far = Math.min(far, Math.max(low / along[k], high / along[k]));
    }
    return near <= far;
  };
}

/** Boxes are taken to be this much larger, mm: rounding may not leave out a triangle that an exact sign lets in. */
const SLACK = 1e-4;
