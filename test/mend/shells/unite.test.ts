import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, loadKernel } from '../../../src/kernel/load.ts';
import { kernelUnite } from '../../../src/kernel/solid.ts';
import { type Body, joinMeshes } from '../../../src/mend/bodies.ts';
import { type United, uniteOverlapping } from '../../../src/mend/shells/unite.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { auditMesh, isClosed } from '../../../src/mesh/topology/audit.ts';
import { soupOf } from '../../support/damage.ts';
import { icosphere, insideOut } from '../../support/figures.ts';
import { inscribedRadius, scaled } from '../../support/meshes.ts';
import { box, fanned, moved, plainVolume, together } from '../../support/simple-solids.ts';
import { triangleKeys } from '../../support/stl-bytes.ts';

type Box = [min: [number, number, number], max: [number, number, number]];

/** Five boxes in a chain and across, none sharing a plane with another. */
const BOXES: Box[] = [
  [
    [0, 0, 0],
    [10, 10, 10],
  ],
  [
    [6, 3, 2],
    [16, 8, 7],
  ],
  [
    [12, -4, 3],
    [15, 20, 6],
  ],
  [
    [3, 4, 5],
    [7, 6, 18],
  ],
  [
    [-5, 1, 1],
    [2, 9, 4],
  ],
];

/** Volume of a union of boxes: Σ over all choices of (−1)^(n+1) times what they have in common. */
function unionOfBoxes(boxes: readonly Box[]): number {
  let volume = 0;
  for (let choice = 1; choice < 1 << boxes.length; choice++) {
    const chosen = boxes.filter((_, i) => (choice >> i) & 1);
    const sides = [0, 1, 2].map((k) => {
      const low = Math.max(...chosen.map(([min]) => min[k]));
      return Math.max(0, Math.min(...chosen.map(([, max]) => max[k])) - low);
    });
    volume += (chosen.length % 2 === 1 ? 1 : -1) * sides[0] * sides[1] * sides[2];
  }
  return volume;
}

/** Volume of two balls of radius r whose centres are d apart: two balls less their lens, π(4r + d)(2r − d)²/12. */
const unionOfBalls = (r: number, d: number): number =>
  (8 / 3) * Math.PI * r ** 3 - (Math.PI * (4 * r + d) * (2 * r - d) ** 2) / 12;

describe('uniting shells that overlap', () => {
  let kernel: Kernel;
  beforeAll(async () => {
    kernel = await loadKernel();
  });
  const unite = (...meshes: Mesh[]): United =>
    uniteOverlapping(
      meshes.map((mesh, i): Body => ({ name: `body ${i}`, mesh })),
      (solids) => kernelUnite(kernel, solids),
    );
  const whole = ({ bodies }: United): Mesh => joinMeshes(bodies.map(({ mesh }) => mesh));

  it('makes of five boxes the volume of their union, by inclusion and exclusion', () => {
    const united = unite(together(...BOXES.map(([min, max]) => fanned(box(min, max)))));
    const mesh = whole(united);
    expect(united.unitedCount).toBe(4);
    expect(auditMesh(mesh).shellCount).toBe(1);
    expect(isClosed(auditMesh(mesh))).toBe(true);
    expect(Math.abs(plainVolume(mesh) / unionOfBoxes(BOXES) - 1)).toBeLessThan(1e-6);
    // New corners lie on the boxes' faces, to the rounding of singles near 20.
    expect(united.deviationMm).toBeLessThan(4e-6);
  });

  it('makes of two balls the volume of two balls less their lens', () => {
    const ball = scaled(icosphere(4), 10);
    const mesh = whole(unite(ball, moved(ball, [12, 1, 0.5])));
    const d = Math.hypot(12, 1, 0.5);
    // The facets lie between the balls of the inscribed radius and of 10 mm.
    expect(plainVolume(mesh)).toBeGreaterThan(unionOfBalls(inscribedRadius(ball), d));
    expect(plainVolume(mesh)).toBeLessThan(unionOfBalls(10, d));
  });

  it('leaves shells that overlap nothing as they are, to the bit', () => {
    const ball = scaled(icosphere(2), 3);
    const alone = moved(ball, [40, 0, 0]);
    const hollow = together(moved(ball, [60, 0, 0]), insideOut(moved(scaled(icosphere(1), 2), [60, 0, 0])));
    const mesh = together(alone, ball, hollow, moved(ball, [2, 0.5, 0.25]));
    const united = unite(mesh);
    expect(united.unitedCount).toBe(1);
    const kept = new Set(triangleKeys(soupOf(whole(united))));
    for (const key of triangleKeys(soupOf(together(alone, hollow)))) expect(kept.has(key)).toBe(true);
    expect(auditMesh(whole(united)).shellCount).toBe(4);
  });

  it('keeps triangles away from the seam to the bit', () => {
    const ball = scaled(icosphere(4), 10);
    const other = moved(ball, [12, 1, 0.5]);
    const kept = new Set(triangleKeys(soupOf(whole(unite(ball, other)))));
    // Behind the other ball's reach nothing of the first is cut.
    const behind = triangleKeys(soupOf(ball)).filter((_, t) =>
      [0, 1, 2].every((k) => ball.positions[ball.triangles[t * 3 + k] * 3] < 0),
    );
    expect(behind.length).toBeGreaterThan(1000);
    expect(behind.filter((key) => !kept.has(key))).toEqual([]);
  });

  it('swallows a body within a body, and keeps a hollow', () => {
    const [ball, small, pea] = [icosphere(3), icosphere(2), icosphere(1)].map((mesh, i) =>
      scaled(mesh, [10, 6, 2][i]),
    );
    const swallowed = unite(together(ball, small));
    expect(plainVolume(whole(swallowed))).toBeCloseTo(plainVolume(ball), 3);
    expect(swallowed.unitedCount).toBe(1);
    // A pea free in a hollow overlaps nothing; one in the wall is swallowed.
    const hollow = together(ball, insideOut(small));
    expect(unite(together(hollow, pea)).unitedCount).toBe(0);
    const inWall = whole(unite(together(hollow, scaled(moved(pea, [16, 0, 0]), 0.5))));
    expect(plainVolume(inWall)).toBeCloseTo(plainVolume(hollow), 3);
    expect(auditMesh(inWall).shellCount).toBe(2);
  });

  it('puts what bodies share into the first of them', () => {
    const cube = fanned(box([0, 0, 0], [4, 4, 4]));
    const { bodies } = unite(moved(cube, [20, 0, 0]), cube, moved(cube, [2, 1, 1.5]));
    expect(bodies.map(({ name, mesh }) => [name, Math.round(plainVolume(mesh) * 1e4) / 1e4])).toEqual([
      ['body 0', 64],
      ['body 1', 128 - 2 * 3 * 2.5],
    ]);
  });
});
