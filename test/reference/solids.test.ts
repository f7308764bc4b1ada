import { beforeAll, describe, expect, it } from 'vitest';
import { memorySource } from '../../src/io/bytes/source.ts';
import { parallelBody } from '../../src/joint/parallel-body.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, type Part, partOf } from '../../src/mesh/part/part.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { icosphere } from '../support/figures.ts';
import { obj, utf8 } from '../support/mesh-files.ts';
import { inscribedRadius, ngonAround, prism, scaled, sums, withFloor } from '../support/meshes.ts';
import { box, fanned, moved, plainVolume } from '../support/simple-solids.ts';

/** Solids whose volume is published, made by the engine's own bodies and booleans. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** Coordinates are singles, off by half a step in 2²⁴; a volume moves by at most three times that share of each. */
const SINGLE = 3 * 2 ** -24;

const joinAs = (does: 'add' | 'take', part: Part, body: Mesh): Part =>
  kernelJoin(kernel, part, [{ of: { kind: 'joint', seamId: 's', jointId: 'a', does }, body }]);
const volumeOf = (part: Part): number => plainVolume(meshOf(part));
const union = (a: Mesh, ...more: Mesh[]): Part => more.reduce((p, m) => joinAs('add', p, m), partOf(a));

/** A sharp frustum: `sides` touch a circle of `r1` at the face and of `r2` at height `h`. */
const frustumOf = (sides: number, r1: number, r2: number, h: number) =>
  withFloor(
    parallelBody({
      core: { corners: ngonAround(sides, r1) },
      draft: Math.atan((r1 - r2) / h),
      coreTop: h,
      radius: 0,
      bottom: 0,
    }),
  );

describe('a sharp tapered body', () => {
  it('holds 56 exactly, square 4 to 2, height 6 (Moscow Mathematical Papyrus, problem 14; seen)', () => {
    // Nothing is rounded to single precision here: what is left is the last digits of double precision.
    expect(Math.abs(sums(frustumOf(4, 2, 1, 6)).volume - 56)).toBeLessThan(56 * 1e-14);
  });

  it('follows the prismoidal formula h/6 (A1 + 4 Am + A2) (Kern & Bland 1948, §30; seen)', () => {
    const [w, d, h, draft] = [9, 5, 4, 0.2];
    const corners: [number, number][] = [
      [w / 2, d / 2],
      [-w / 2, d / 2],
      [-w / 2, -d / 2],
      [w / 2, -d / 2],
    ];
    const body = withFloor(parallelBody({ core: { corners }, draft, coreTop: h, radius: 0, bottom: 0 }));
    const at = (z: number) => (w - 2 * z * Math.tan(draft)) * (d - 2 * z * Math.tan(draft));
    expect(sums(body).volume).toBeCloseTo((h / 6) * (at(0) + 4 * at(h / 2) + at(h)), 12);
  });

  for (const [r1, r2, h] of [
    [3, 2, 5],
    [3, 3, 6],
    [2.5, 2, 4],
  ]) {
    it(`is a conical frustum ${r1} to ${r2}, height ${h}, times the n-gon's share (Machinery's Handbook, volumes of solids; memory)`, () => {
      const slant = Math.hypot(h, r1 - r2);
      for (const n of [16, 64, 256]) {
        const { volume, area } = sums(frustumOf(n, r1, r2, h));
        // An n-gon around a circle has n tan(π/n)/π of its area and of its perimeter; so have volume and sides.
        const share = (n * Math.tan(Math.PI / n)) / Math.PI;
        const cone = ((Math.PI * h) / 3) * (r1 * r1 + r1 * r2 + r2 * r2);
        const sides = Math.PI * (r1 + r2) * slant;
        const ends = Math.PI * (r1 * r1 + r2 * r2);
        expect(Math.abs(volume / (share * cone) - 1)).toBeLessThan(1e-13);
        expect(Math.abs(area / (share * (sides + ends)) - 1)).toBeLessThan(1e-13);
      }
    });
  }
});

describe('the sample cube of 39.998 × 40 × 39.998', () => {
  it('holds 63993.60016 (3MF Core Specification 1.4.0, App. B.2; seen)', async () => {
    const cube = box([0, 0, 0], [39.998, 40, 39.998]);
    const sculpt = await openSculpt(memorySource('cube.obj', utf8(obj(cube))), { unit: 'mm', scale: 1 });
    expect(sculpt.read.vertices).toBe(8);
    expect(sculpt.read.triangles).toBe(12);
    expect(sculpt.solid).toBe(true);
    expect(Math.abs(sculpt.volumeMm3 / 63993.60016 - 1)).toBeLessThan(SINGLE);
  });
});

describe('a ball less a coaxial hole', () => {
  const n = 720;
  const shrink = Math.cos(Math.PI / n);
  const h = 6;

  it('holds π h³/6 whatever the ball (napkin-ring problem, Gardner 1959; seen)', () => {
    const ball = icosphere(6);
    const inner = inscribedRadius(ball);
    for (const radius of [4, 5, 8]) {
      const hole = Math.sqrt(radius * radius - (h * h) / 4);
      const left = joinAs('take', partOf(scaled(ball, radius)), prism(n, hole, 4 * radius));
      const volume = volumeOf(left);
      // A ball of ρ less a hole of a leaves 4π/3 (ρ² − a²)^(3/2). The facets lie between the balls of `inner` R
      // and R, the prism between the cylinders of a cos(π/n) and a.
      const ring = (ball: number, a: number) => ((4 * Math.PI) / 3) * (ball * ball - a * a) ** 1.5;
      expect(volume).toBeGreaterThan(ring(inner * radius, hole) * (1 - SINGLE));
      expect(volume).toBeLessThan(ring(radius, hole * shrink) * (1 + SINGLE));
      const published = (Math.PI * h ** 3) / 6;
      expect(ring(radius, hole)).toBeCloseTo(published, 10);
      // So much do the bounds allow: 1 − `inner` is 1.5e-4, and the ring is the thinner the greater the ball.
      expect(Math.abs(volume / published - 1)).toBeLessThan(
        (1.5 * (radius * radius * (1 - inner * inner) + hole * hole * (1 - shrink * shrink))) / ((h * h) / 4),
      );
    }
  });
});

describe('equal cylinders that cross at right angles', () => {
  const [n, r] = [720, 5];
  // Inscribed n-gons hold the circle of r cos(π/n): what they share holds the same bodies of that radius.
  const least = Math.cos(Math.PI / n) ** 3;
  const along = ([0, 1, 2] as const).map((axis) => prism(n, r, 20 + axis, axis));
  const single = along.map((mesh) => measureMesh(mesh).volumeMm3);
  const shared = (a: number, b: number) => single[a] + single[b] - volumeOf(union(along[a], along[b]));

  it('share 16 r³/3, two of them (Steinmetz solid; memory)', () => {
    const exact = (16 * r ** 3) / 3;
    // The shared volume is a difference of larger ones: their rounding counts in full.
    const slack = SINGLE * (single[0] + single[1]);
    for (const [a, b] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ]) {
      expect(shared(a, b)).toBeGreaterThan(exact * least - slack);
      expect(shared(a, b)).toBeLessThan(exact + slack);
    }
  });

  it('share 8 (2 − √2) r³, three of them (Steinmetz solid; memory)', () => {
    const exact = 8 * (2 - Math.SQRT2) * r ** 3;
    const pairs = shared(0, 1) + shared(1, 2) + shared(2, 0);
    const all = volumeOf(union(along[0], along[1], along[2])) - single[0] - single[1] - single[2] + pairs;
    const slack = 4 * SINGLE * (single[0] + single[1] + single[2]);
    expect(all).toBeGreaterThan(exact * least - slack);
    expect(all).toBeLessThan(exact + slack);
  });
});

describe('a measured solid', () => {
  it('keeps its volume and carries its centroid along when the origin moves (Mirtich, J. Graphics Tools 1(2), 1996; seen)', () => {
    const cube = fanned(box([-1, -2, -3], [4, 6, 8]));
    const at = measureMesh(cube);
    expect(at.centroid).toEqual([1.5, 2, 2.5]);
    // Whole numbers below 2²⁴ are exact in single precision: so is the move.
    const far = measureMesh(moved(cube, [4096, -8192, 65536]));
    expect(far.volumeMm3).toBe(at.volumeMm3);
    expect(far.centroid).toEqual([4097.5, -8190, 65538.5]);
  });
});
