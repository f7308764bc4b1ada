import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildHeron } from '../../src/demo/heron.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelCut } from '../../src/kernel/solid.ts';
import { type Plane, plane, planeDistance } from '../../src/math/plane.ts';
import { float32Step, TOLERANCES } from '../../src/math/tolerances.ts';
import { cross, dot, length, sub, type Vec3 } from '../../src/math/vec3.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, type Part, partOf } from '../../src/mesh/part/part.ts';
import { type Cut, cutPart } from '../../src/seam/cut.ts';
import {
  apart,
  boxFrame,
  lumpySphere,
  nestedBalls,
  overlapping,
  ring,
  steppedBlock,
  turned,
} from '../support/figures.ts';
import { isSound, reachOf, SEAM, volumeOf } from '../support/seam-fixture.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { trials } from '../support/sweep.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const FIGURES: ((seed: number) => Mesh)[] = [
  (seed) => lumpySphere(seed, 20, 3, 0.3),
  (seed) => lumpySphere(seed, 20, 1, 0.3),
  ring,
  () => boxFrame(40, 16, 14),
  nestedBalls,
  apart,
  () => steppedBlock(20, 8, 12, 15),
  () => steppedBlock(20, 15, 12, 6),
];

const vertexOf = ({ positions }: Mesh, i: number): Vec3 => {
  const v = (i % (positions.length / 3)) * 3;
  return [positions[v], positions[v + 1], positions[v + 2]];
};

const unitCube = fc.double({ min: -1, max: 1, noNaN: true });
const direction = fc.tuple(unitCube, unitCube, unitCube).filter((n) => Math.hypot(...n) > 0.1);
const index = fc.nat(100_000);

/** Planes that are likely to give trouble, besides oblique ones at random. */
const planes: Record<string, fc.Arbitrary<(mesh: Mesh) => Plane | null>> = {
  oblique: fc.tuple(direction, unitCube).map(
    ([n, share]) =>
      () =>
        plane(n, share * 16),
  ),
  'through a vertex': fc.tuple(direction, index).map(([n, i]) => (mesh: Mesh) => {
    const p = plane(n, 0);
    return { ...p, offset: dot(p.normal, vertexOf(mesh, i)) };
  }),
  'along an edge': fc.tuple(direction, index, fc.nat(2)).map(([n, t, k]) => (mesh: Mesh) => {
    const first = (t % (mesh.triangles.length / 3)) * 3;
    const a = vertexOf(mesh, mesh.triangles[first + k]);
    const b = vertexOf(mesh, mesh.triangles[first + ((k + 1) % 3)]);
    return planeAt(cross(sub(b, a), n), a);
  }),
  'along a triangle': fc.tuple(index, fc.boolean()).map(([t, flip]) => (mesh: Mesh) => {
    const first = (t % (mesh.triangles.length / 3)) * 3;
    const [a, b, c] = [0, 1, 2].map((k) => vertexOf(mesh, mesh.triangles[first + k]));
    return planeAt(flip ? cross(sub(c, a), sub(b, a)) : cross(sub(b, a), sub(c, a)), a);
  }),
  'through three vertices': fc.tuple(index, index, index).map(([i, j, k]) => (mesh: Mesh) => {
    const a = vertexOf(mesh, i);
    return planeAt(cross(sub(vertexOf(mesh, j), a), sub(vertexOf(mesh, k), a)), a);
  }),
  level: fc.tuple(index, fc.nat(2), fc.boolean()).map(([i, axis, flip]) => (mesh: Mesh) => {
    const n: Vec3 = [0, 1, 2].map((k) => (k === axis ? (flip ? -1 : 1) : 0)) as unknown as Vec3;
    return planeAt(n, vertexOf(mesh, i));
  }),
};

/** The plane square to `normal` through `p`; null for next to no normal. */
function planeAt(normal: Vec3, p: Vec3): Plane | null {
  if (length(normal) < 1e-3) return null;
  const at = plane(normal, 0);
  return { ...at, offset: dot(at.normal, p) };
}

/** A triangle's corners as text, starting from the least corner so that turns do not matter. */
function keysOf({ positions, triangles }: Mesh): string[] {
  return Array.from({ length: triangles.length / 3 }, (_, t) => {
    const corners = [0, 1, 2].map((k) => {
      const v = triangles[t * 3 + k] * 3;
      return positions.subarray(v, v + 3).join();
    });
    const first = corners.indexOf([...corners].sort()[0]);
    return [0, 1, 2].map((k) => corners[(first + k) % 3]).join(' ');
  });
}

const skinOf = (part: Part): Mesh => meshOf(part, ({ kind }) => kind === 'skin');
const faceMesh = (part: Part): Mesh => meshOf(part, ({ kind }) => kind === 'face');

/** Each triangle that the plane does not divide is on the side it should be, once, and not on the other. */
function expectUntouched(mesh: Mesh, cut: Cut, at: Plane): void {
  const snap = TOLERANCES.snapUlps * float32Step(reachOf(mesh));
  const [front, back] = [cut.front, cut.back].map((part) => tally(keysOf(skinOf(part))));
  const wholeFront = new Map<string, number>();
  const wholeBack = new Map<string, number>();
  keysOf(mesh).forEach((key, t) => {
    const d = [0, 1, 2].map((k) => planeDistance(at, vertexOf(mesh, mesh.triangles[t * 3 + k])));
    const [ahead, behind] = [d.some((v) => v > snap), d.some((v) => v < -snap)];
    if (ahead && !behind) wholeFront.set(key, (wholeFront.get(key) ?? 0) + 1);
    if (behind && !ahead) wholeBack.set(key, (wholeBack.get(key) ?? 0) + 1);
    if (!ahead && !behind) expect((front.get(key) ?? 0) + (back.get(key) ?? 0)).toBe(1);
  });
  for (const [key, count] of wholeFront) expect([front.get(key), back.get(key)]).toEqual([count, undefined]);
  for (const [key, count] of wholeBack) expect([back.get(key), front.get(key)]).toEqual([count, undefined]);
}

function tally(keys: string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
}

function expectSums(mesh: Mesh, cut: Cut): void {
  const whole = measureMesh(mesh);
  const [front, back] = [cut.front, cut.back].map((part) => ({
    ...measureMesh(meshOf(part)),
    face: measureMesh(faceMesh(part)).areaMm2,
  }));
  const step = float32Step(reachOf(mesh));
  // Cut vertices are off their edges by up to a step: across the face that moves volume, along its outline area.
  const perimeter = 8 * reachOf(mesh);
  expect(Math.abs(front.volumeMm3 + back.volumeMm3 - whole.volumeMm3)).toBeLessThan(
    1e-9 * whole.volumeMm3 + whole.areaMm2 * step,
  );
  expect(Math.abs(front.areaMm2 - front.face + back.areaMm2 - back.face - whole.areaMm2)).toBeLessThan(
    1e-9 * whole.areaMm2 + 8 * perimeter * step,
  );
  // The kernel divides the two faces into triangles each in its own way.
  expect(Math.abs(front.face - back.face)).toBeLessThan((cut.way === 'local' ? 1e-12 : 1e-6) * whole.areaMm2);
}

/** Both faces have the same vertices, bit for bit. */
function expectSharedOutline({ front, back }: Cut): void {
  const vertices = (part: Part) => {
    const { positions, triangles } = faceMesh(part);
    return [...new Set(Array.from(triangles, (v) => positions.subarray(v * 3, v * 3 + 3).join()))].sort();
  };
  expect(vertices(front)).toEqual(vertices(back));
}

/**
 * True where an edge lies in the plane and the triangles at it are both on one side: there that side's
 * pieces touch along the edge, and the other side's face runs on past it.
 */
function touchesAlongEdge(mesh: Mesh, at: Plane): boolean {
  const snap = TOLERANCES.snapUlps * float32Step(reachOf(mesh));
  const side = (v: number) => {
    const d = planeDistance(at, vertexOf(mesh, v));
    return d > snap ? 1 : d < -snap ? -1 : 0;
  };
  const wings = new Map<string, number>();
  const { triangles: t } = mesh;
  for (let i = 0; i < t.length; i++) {
    const [a, b, c] = [t[i], t[i % 3 === 2 ? i - 2 : i + 1], t[i % 3 === 0 ? i + 2 : i - 1]];
    if (side(a) !== 0 || side(b) !== 0) continue;
    const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
    wings.set(key, (wings.get(key) ?? 0) + side(c));
  }
  return [...wings.values()].some((sum) => Math.abs(sum) === 2);
}

/** Runs `check` on figures cut by planes of a kind; answers how many were cut, and how many by the kernel. */
function forCuts(
  kind: string,
  seed: number,
  numRuns: number,
  check: (mesh: Mesh, cut: Cut, at: Plane) => void,
) {
  const count = { cuts: 0, kernel: 0 };
  const planeOf = planes[kind];
  fc.assert(
    fc.property(
      fc.nat(FIGURES.length - 1),
      fc.nat(50),
      planeOf,
      fc.boolean(),
      (figure, lumps, choose, turn) => {
        const upright = FIGURES[figure](lumps);
        const mesh = turn ? turned(upright, lumps, lumps / 3, lumps / 7) : upright;
        const at = choose(mesh);
        if (!at) return;
        const cut = cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 0]);
        count.cuts++;
        if (cut.way === 'kernel') count.kernel++;
        check(mesh, cut, at);
      },
    ),
    { seed, numRuns },
  );
  return count;
}

describe('a cut', () => {
  for (const kind of Object.keys(planes)) {
    it(`divides closed figures by planes ${kind} into closed sides that add up, seed 71`, () => {
      const { cuts, kernel: byKernel } = forCuts(kind, 71, trials(100, 40), (mesh, cut, at) => {
        if (!touchesAlongEdge(mesh, at)) {
          expect(isSound(cut.front)).toBe(true);
          expect(isSound(cut.back)).toBe(true);
        }
        expectSums(mesh, cut);
        if (cut.way === 'kernel') return;
        expectUntouched(mesh, cut, at);
        expectSharedOutline(cut);
      });
      expect(cuts).toBeGreaterThan(trials(50, 20));
      // Outlines that touch themselves in a vertex may be left to the kernel; others may not.
      expect(byKernel).toBeLessThanOrEqual(kind === 'oblique' ? 0 : 5);
    }, 60_000);
  }

  it('closes both sides where the plane meets a hollow edge from outside, seed 75', () => {
    let touching = 0;
    for (let i = 1; i <= 400; i++) {
      const random = makeRandom(75_000 + i);
      const upright = random() < 0.5 ? boxFrame(40, 16, 14) : steppedBlock(20, 8, 12, 15);
      const mesh = random() < 0.5 ? turned(upright, random() * 7, random() * 3, random() * 7) : upright;
      const edge = Math.floor(random() * mesh.triangles.length);
      const a = vertexOf(mesh, mesh.triangles[edge]);
      const b = vertexOf(mesh, mesh.triangles[edge % 3 === 2 ? edge - 2 : edge + 1]);
      const at = planeAt(cross(sub(b, a), [random() - 0.5, random() - 0.5, random() - 0.5]), a);
      if (!at || !touchesAlongEdge(mesh, at)) continue;
      const cut = cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 0]);
      expect([isSound(cut.front), isSound(cut.back)], `seed ${75_000 + i}`).toEqual([true, true]);
      touching++;
    }
    expect(touching).toBeGreaterThan(20);
  });

  it('agrees with the kernel on the volumes of both sides, seed 72', () => {
    fc.assert(
      fc.property(fc.nat(FIGURES.length - 1), fc.nat(50), planes.oblique, (figure, seed, choose) => {
        const mesh = turned(FIGURES[figure](seed), seed, seed / 3, seed / 7);
        const at = choose(mesh) as Plane;
        const [mine, theirs] = [
          cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 0]),
          kernelCut(kernel, partOf(mesh), at, SEAM),
        ];
        const whole = measureMesh(mesh).volumeMm3;
        expect(Math.abs(volumeOf(mine.front) - volumeOf(theirs.front))).toBeLessThan(1e-6 * whole);
        expect(Math.abs(volumeOf(mine.back) - volumeOf(theirs.back))).toBeLessThan(1e-6 * whole);
      }),
      { seed: 72, numRuns: trials(60, 25) },
    );
  });

  it('leaves overlapping shells to the kernel, and closes them, seed 73', () => {
    let overlaps = 0;
    fc.assert(
      fc.property(fc.nat(50), direction, unitCube, (seed, n, share) => {
        const mesh = overlapping(seed);
        // Through the middle of the overlap, so that both shells' outlines cross.
        const p = plane(n, 0);
        const at = { ...p, offset: dot(p.normal, [6, 0.5, share]) };
        const cut = cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 0]);
        const theirs = kernelCut(kernel, partOf(mesh), at, SEAM);
        if (cut.way === 'kernel') overlaps++;
        expect(isSound(cut.front)).toBe(true);
        expect(isSound(cut.back)).toBe(true);
        const sums = [cut, theirs].map(({ front, back }) => volumeOf(front) + volumeOf(back));
        expect(Math.abs(sums[0] - sums[1])).toBeLessThan(1e-6 * sums[1]);
      }),
      { seed: 73, numRuns: trials(60, 25) },
    );
    expect(overlaps).toBeGreaterThan(trials(50, 20));
  });

  it('gives flat ground in the plane to the side whose material is under it', () => {
    // A tower of 12 × 12 × 7 on a block of 20 × 20 × 8, and the block of 15 with a pocket of 12 × 12 × 9.
    const tower = cutPart(kernel, partOf(steppedBlock(20, 8, 12, 15)), plane([0, 0, 1], 8), SEAM, [0, 0, 0]);
    expect([tower.way, volumeOf(tower.front), volumeOf(tower.back)]).toEqual([
      'local',
      12 * 12 * 7,
      20 * 20 * 8,
    ]);
    expect(measureMesh(faceMesh(tower.front)).areaMm2).toBeCloseTo(144, 9);
    expect(measureMesh(skinOf(tower.back)).areaMm2).toBeCloseTo(400 + 4 * 160 + (400 - 144), 9);
    const pocket = cutPart(kernel, partOf(steppedBlock(20, 15, 12, 6)), plane([0, 0, 1], 6), SEAM, [0, 0, 0]);
    expect([pocket.way, volumeOf(pocket.front), volumeOf(pocket.back)]).toEqual([
      'local',
      (400 - 144) * 9,
      400 * 6,
    ]);
    expect(measureMesh(faceMesh(pocket.front)).areaMm2).toBeCloseTo(400 - 144, 9);
  });

  it('answers an empty side where the plane misses or only touches', () => {
    const cube = partOf(fanned(box([0, 0, 0], [4, 4, 4])));
    for (const offset of [5, 4]) {
      const cut = cutPart(kernel, cube, plane([0, 0, 1], offset), SEAM, [0, 0, 0]);
      expect(cut.front.patches).toEqual([]);
      expect(cut.back.patches.map(({ of }) => of.kind)).toEqual(['skin']);
      expect(volumeOf(cut.back)).toBe(64);
    }
    const corner = cutPart(kernel, cube, planeAt([1, 1, 1], [4, 4, 4]) as Plane, SEAM, [0, 0, 0]);
    expect([corner.front.patches.length, volumeOf(corner.back)]).toEqual([0, 64]);
    const edge = cutPart(kernel, cube, planeAt([1, 1, 0], [4, 4, 0]) as Plane, SEAM, [0, 0, 0]);
    expect([edge.front.patches.length, volumeOf(edge.back)]).toEqual([0, 64]);
  });

  it('halves a cube along the long diagonal in a regular hexagon of 1.2990381 a² (elementary; derived)', () => {
    const cube = partOf(fanned(box([-4, -4, -4], [4, 4, 4])));
    const cut = cutPart(kernel, cube, plane([1, 1, 1], 0), SEAM, [0, 0, 0]);
    expect(measureMesh(faceMesh(cut.front)).areaMm2 / 64).toBeCloseTo(1.2990381, 6);
    expect(volumeOf(cut.front)).toBeCloseTo(256, 4);
    expect(volumeOf(cut.back)).toBeCloseTo(256, 4);
  });

  it('cuts the demo figure, shells and all, by planes at random, seed 74', () => {
    const mesh = buildHeron({ triangles: 20_000 });
    fc.assert(
      fc.property(direction, fc.double({ min: 0, max: 1, noNaN: true }), (n, share) => {
        const p = plane(n, 0);
        const at = { ...p, offset: dot(p.normal, [0, 0, 20 + 130 * share]) };
        const cut = cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 90]);
        expect(isSound(cut.front)).toBe(true);
        expect(isSound(cut.back)).toBe(true);
        expect(cut.way).toBe('local');
        expectSums(mesh, cut);
        expectUntouched(mesh, cut, at);
      }),
      { seed: 74, numRuns: trials(10, 2) },
    );
  }, 60_000);
});
