import type { Kernel } from '../../kernel/load.ts';
import { triangulate } from '../../kernel/triangulate.ts';
import { fromFrame } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { dot, type Vec3 } from '../../math/vec3.ts';
import { blocksOf, boundsOfBlocks } from '../../mesh/near/blocks.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';
import { NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import type { Profile } from './profile.ts';

/** How far the body reaches beyond the part along the sweep, mm. */
const BEYOND_MM = 5;

/**
 * All that lies to the left of a sheet, as a closed body that reaches beyond a part: its sides are the faces that the sheet
 * gives both parts. Recentred mm.
 */
export function sheetBody(kernel: Kernel, part: Part, profile: Profile, seamId: string): Part {
  const { frame, left } = profile;
  const [low, high] = heights(part, frame.n);
  const count = left.length / 2;
  const positions = new Float32Array(count * 6);
  for (let i = 0; i < count; i++) {
    const at = [left[i * 2], left[i * 2 + 1]] as const;
    positions.set(fromFrame(frame, at, low - BEYOND_MM), i * 3);
    positions.set(fromFrame(frame, at, high + BEYOND_MM), (count + i) * 3);
  }
  const sides = Array.from({ length: count }, (_, i) => {
    const j = i + 1 < count ? i + 1 : 0;
    return Uint32Array.of(i, j, count + j, i, count + j, count + i);
  });
  const lid = triangulate(kernel, [left], TOLERANCES.outlineSlop);
  const face = (facet: number, triangles: Uint32Array): Patch => ({
    of: { kind: 'face', seamId, facet },
    triangles,
  });
  const ends = face(0, Uint32Array.from([...lid].reverse().concat([...lid].map((i) => i + count))));
  const patches = sides.map((triangles, i) => face(i, triangles));
  return { positions, added: NOTHING_ADDED, patches: [...patches, ends] };
}

/** Least and greatest height of a part along a direction, mm, of its box. */
function heights(part: Part, n: Vec3): [number, number] {
  const corners = part.patches.flatMap(({ triangles }) => {
    const { min, max } = boundsOfBlocks(blocksOf(part, triangles));
    return [0, 1, 2, 3, 4, 5, 6, 7].map((bits) =>
      dot(n, [bits & 1 ? max[0] : min[0], bits & 2 ? max[1] : min[1], bits & 4 ? max[2] : min[2]]),
    );
  });
  return [Math.min(...corners), Math.max(...corners)];
}
