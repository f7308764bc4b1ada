import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';
import { NOTHING_ADDED } from '../part/vertices.ts';
import { blocksOf } from './blocks.ts';
import { nearest, pointTriangleSquared } from './triangle-distance.ts';

/** The place of a skin that is nearest to a point. */
export interface OnSkin {
  /** mm. */
  distance: number;
  at: Vec3;
  /** Its triangle, by its first corner in the mesh's triangles. */
  triangle: number;
}

/** Answers where a skin is nearest to a point, no farther off than `cap` (mm); null beyond it. */
export type SkinSearch = (x: number, y: number, z: number, cap: number) => OnSkin | null;

/** More boxes than a walk ever has waiting: eight on each of the levels that the most triangles make. */
const WAITING = 128;

/**
 * A search of the whole of a skin, down the blocks that cutting has of it anyway: the nearest box first, and none that is
 * farther than the nearest triangle so far. Some eight times a tree's cost in a question, and none to build.
 */
export function skinSearch(mesh: Mesh): SkinSearch {
  const { positions: p, triangles: t } = mesh;
  const { starts, levels } = blocksOf({ positions: p, added: NOTHING_ADDED }, t);
  const top = levels.length - 1;
  const level = new Int32Array(WAITING);
  const box = new Int32Array(WAITING);
  const gap = new Float64Array(WAITING);
  const corners = new Float64Array(9);
  return (x, y, z, cap) => {
    let best = cap * cap;
    let triangle = -1;
    let px = 0;
    let py = 0;
    let pz = 0;
    let waiting = levels[top].length > 0 ? 1 : 0;
    level[0] = top;
    box[0] = 0;
    gap[0] = 0;
    while (waiting > 0) {
      waiting--;
      if (gap[waiting] >= best) continue;
      if (level[waiting] > 0) {
        const below = level[waiting] - 1;
        const boxes = levels[below];
        const first = waiting;
        const end = Math.min(boxes.length / 6, (box[waiting] + 1) * 8);
        for (let child = box[waiting] * 8; child < end; child++) {
          const far = boxSquared(boxes, child * 6, x, y, z);
          if (far >= best) continue;
          // Farthest below, so that the nearest is looked at next.
          let slot = waiting++;
          for (; slot > first && gap[slot - 1] < far; slot--) {
            gap[slot] = gap[slot - 1];
            box[slot] = box[slot - 1];
            level[slot] = level[slot - 1];
          }
          gap[slot] = far;
          box[slot] = child;
          level[slot] = below;
        }
        continue;
      }
      const end = starts[box[waiting] + 1];
      for (let i = starts[box[waiting]]; i < end; i += 3) {
        const a = t[i] * 3;
        const b = t[i + 1] * 3;
        const c = t[i + 2] * 3;
        corners[0] = p[a];
        corners[1] = p[a + 1];
        corners[2] = p[a + 2];
        corners[3] = p[b];
        corners[4] = p[b + 1];
        corners[5] = p[b + 2];
        corners[6] = p[c];
        corners[7] = p[c + 1];
        corners[8] = p[c + 2];
        const d = pointTriangleSquared(x, y, z, corners);
        if (d >= best) continue;
        best = d;
        triangle = i;
        px = nearest.x;
        py = nearest.y;
        pz = nearest.z;
      }
    }
    return triangle < 0 ? null : { distance: Math.sqrt(best), at: [px, py, pz], triangle };
  };
}

/** Distance from a point to a box, squared, mm². */
function boxSquared(boxes: Float32Array, at: number, x: number, y: number, z: number): number {
  const dx = x < boxes[at] ? boxes[at] - x : x > boxes[at + 3] ? x - boxes[at + 3] : 0;
  const dy = y < boxes[at + 1] ? boxes[at + 1] - y : y > boxes[at + 4] ? y - boxes[at + 4] : 0;
  const dz = z < boxes[at + 2] ? boxes[at + 2] - z : z > boxes[at + 5] ? z - boxes[at + 5] : 0;
  return dx * dx + dy * dy + dz * dz;
}
