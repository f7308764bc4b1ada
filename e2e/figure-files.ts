import { writeStlBinary } from '../src/io/stl/write.ts';
import type { Mesh } from '../src/mesh/mesh.ts';
import { lumpySphere } from '../test/support/figures.ts';
import { box, fanned, moved, together } from '../test/support/simple-solids.ts';

/** A mesh as a binary STL. */
export const stlFile = (mesh: Mesh): Buffer => Buffer.from(writeStlBinary(mesh, [0, 0, 0]));

/** A block of 60 × 40 × 80 mm that stands on the bed, as a binary STL. */
export const blockStl = (): Buffer => stlFile(fanned(box([-30, -20, 0], [30, 20, 80])));

/** A post of 20 × 16 mm that touches the stand under it, two bodies of one binary STL. */
export const touchingStl = (): Buffer =>
  stlFile(together(fanned(box([-20, -15, -18], [20, 15, 0])), fanned(box([-10, -8, 0], [10, 8, 30]))));

/** A lumpy ball on the bed, its radius about `radius`, in whatever unit. */
export const ball = (radius: number): Mesh => moved(lumpySphere(15, radius, 4, 0.12), [0, 0, radius]);

/** The ball with a large hole on its right and on its left, and a speck of dust beside it. */
export function brokenBall(radius: number): Mesh {
  const whole = ball(radius);
  const { positions: p, triangles: t } = whole;
  const kept: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const x = (p[t[i] * 3] + p[t[i + 1] * 3] + p[t[i + 2] * 3]) / 3;
    if (Math.abs(x) < radius * 0.85) kept.push(t[i], t[i + 1], t[i + 2]);
  }
  const side = radius / 500;
  const speck = fanned(box([0, -radius * 1.2, radius], [side, -radius * 1.2 + side, radius + side]));
  return together({ positions: p, triangles: Uint32Array.from(kept) }, speck);
}
