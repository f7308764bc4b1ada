import bunny from 'bunny';
import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { plane, planeDistance } from '../../src/math/plane.ts';
import { loopArea, loopPerimeter } from '../../src/math/polygon.ts';
import { float32Step, TOLERANCES } from '../../src/math/tolerances.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { compactMesh, meshOf, type Part, partOf } from '../../src/mesh/part/part.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { type Cut, cutPart, findFace } from '../../src/seam/cut.ts';
import { boxFrame, icosphere, nestedBalls, ring } from '../support/figures.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { eulerCharacteristic, scaled, sums } from '../support/meshes.ts';
import { box, fanned } from '../support/simple-solids.ts';

/** Cuts against what must be true of any cut. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const cutBy = (mesh: Mesh, normal: Vec3, offset: number): Cut =>
  cutPart(kernel, partOf(mesh), plane(normal, offset), 'seam', [0, 0, 0]);

const loopsOf = ({ back, facets }: Cut): Float64Array[] =>
  findFace(back, 'seam', 0, facets[0].frame, 'back')?.loops ?? [];

/** The bunny with its largest extent 100 mm, its middle at zero. */
function bunny100(): Mesh {
  const positions = Float32Array.from(bunny.positions.flat());
  const lows = [0, 1, 2].map((k) => Math.min(...positions.filter((_, i) => i % 3 === k)));
  const highs = [0, 1, 2].map((k) => Math.max(...positions.filter((_, i) => i % 3 === k)));
  const factor = 100 / Math.max(...highs.map((high, k) => high - lows[k]));
  return {
    positions: positions.map((v, i) => (v - (lows[i % 3] + highs[i % 3]) / 2) * factor),
    triangles: Uint32Array.from(bunny.cells.flat()),
  };
}

describe('a cube cut through its centre across its diagonal', () => {
  it('shows a regular hexagon of side a/√2 and area 1.2990381 a², its halves equal (elementary geometry; derived)', () => {
    const a = 10;
    const cut = cutBy(fanned(box([-a / 2, -a / 2, -a / 2], [a / 2, a / 2, a / 2])), [1, 1, 1], 0);
    const loops = loopsOf(cut);
    expect(loops).toHaveLength(1);
    // Corners are rounded to single precision: each side and the area move by no more than that of two ends.
    const step = float32Step(a / 2);
    expect(Math.abs(loopArea(loops[0]) - 1.2990381 * a * a)).toBeLessThan(6 * a * step + 1e-5);
    expect(Math.abs(loopPerimeter(loops[0]) - (6 * a) / Math.SQRT2)).toBeLessThan(12 * step);
    const corners = Array.from({ length: loops[0].length / 2 }, (_, i) =>
      Math.hypot(loops[0][i * 2], loops[0][i * 2 + 1]),
    );
    // Where a diagonal of the cube's faces crosses the plane there is a point in the middle of a side besides.
    const outer = corners.filter((r) => Math.abs(r - a / Math.SQRT2) < 2 * step);
    expect(outer).toHaveLength(6);
    const [front, back] = [cut.front, cut.back].map((part) => sums(meshOf(part)).volume);
    expect(Math.abs(front - back)).toBeLessThan(1e-6 * a ** 3);
    expect(front + back).toBeCloseTo(a ** 3, 3);
  });
});

describe('the bunny at 100 mm cut by a plane', () => {
  const mesh = bunny100();
  const whole = sums(mesh);
  const reach = mesh.positions.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const step = float32Step(reach);

  for (let seed = 1; seed <= 12; seed++) {
    it(`adds up in volume, skin and centroid (additivity of measure; derived), seed ${seed}`, () => {
      const random = makeRandom(seed);
      const normal: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
      const offset = (random() - 0.5) * 40;
      const cut = cutBy(mesh, normal, offset);
      const [front, back] = [cut.front, cut.back].map((part) => sums(meshOf(part)));
      const faceMesh = compactMesh(meshOf(cut.front, ({ kind }) => kind === 'face'));
      const face = sums(faceMesh).area;
      const perimeter = loopsOf(cut).reduce((sum, loop) => sum + loopPerimeter(loop), 0);
      expect(cut.way).toBe('local');
      // A cut vertex is rounded to within √3/2 steps of its edge. Moving the outline by that over the skin's two
      // triangles at each piece of it changes the volume by less than a step times the crossed triangles' area,
      // and the skin by less than a step times their edges; neither is as much as the whole skin, or four times
      // the outline for each of its two ends.
      expect(Math.abs(front.volume + back.volume - whole.volume)).toBeLessThan(step * whole.area);
      expect(Math.abs(front.area + back.area - whole.area - 2 * face)).toBeLessThan(8 * step * perimeter);
      for (let k = 0; k < 3; k++) {
        const moment = front.moment[k] + back.moment[k] - whole.moment[k];
        expect(Math.abs(moment)).toBeLessThan(step * whole.area * 50);
      }
      // The face lies in the plane: a vertex is rounded by half a step along each axis, or was snapped from two.
      const seam = plane(normal, offset);
      for (let i = 0; i < faceMesh.positions.length; i += 3) {
        const [x, y, z] = faceMesh.positions.subarray(i, i + 3);
        expect(Math.abs(planeDistance(seam, [x, y, z]))).toBeLessThanOrEqual(
          TOLERANCES.snapUlps * float32Step(reach),
        );
      }
      // Neither side may be next to nothing, or nothing would be shown.
      expect(Math.min(front.volume, back.volume)).toBeGreaterThan(0.01 * whole.volume);
    });
  }

  for (const pegOn of ['front', 'back'] as const) {
    it(`and pegged on the ${pegOn} has V(pegged) + V(socketed) = V + V(peg) − V(socket) (additivity; derived)`, async () => {
      const sculpt = await sculptOf(mesh);
      const pegs = [{ kind: 'taper' as const, at: 'auto' as const }];
      const evaluator = createEvaluator(onlyHere(kernel), sculpt);
      const { tree } = await evaluator.evaluate(
        jobOf([{ normal: [0.2, 1, 0.1], offsetMm: -5, pegOn, pegs }]),
      );
      const joints = tree.parts.map(({ part }) => meshOf(part, ({ kind }) => kind === 'joint'));
      const at = tree.seams[0].joints[0];
      // A joint's surface is open at its rim, which lies in the seam plane: tetrahedra from the foot close it.
      const beyond = joints.map((joint) => sums(about(joint, at.pieces[0].piece.frame.foot)).volume);
      const [peg, socket] = beyond[0] > 0 ? beyond : [beyond[1], beyond[0]];
      expect(peg).toBeGreaterThan(10);
      expect(-socket).toBeGreaterThan(peg);
      const parts = tree.parts.reduce((sum, { part }) => sum + sums(meshOf(part)).volume, 0);
      // Besides the cut's own rounding: the rims' vertices are rounded off the plane by up to a step.
      const residual = parts - (sums(sculpt.mesh).volume + peg + socket);
      expect(Math.abs(residual)).toBeLessThan(step * whole.area);
      expect(Math.abs(residual) / whole.volume).toBeLessThan(1e-6);
    });
  }
});

/** The same mesh with `origin` at zero, in double precision. */
const about = ({ positions, triangles }: Mesh, origin: Vec3) => ({
  positions: Float64Array.from(positions, (v, i) => v - origin[i % 3]),
  triangles,
});

/** Figures, planes, what χ each side must have, and how many outlines and holes the face has. */
const TOPOLOGY: {
  name: string;
  mesh: () => Mesh;
  normal: Vec3;
  offset: number;
  front: number;
  back: number;
  outlines: number;
  holes: number;
}[] = [
  {
    name: 'a cube, obliquely: two balls',
    mesh: () => fanned(box([-5, -5, -5], [5, 5, 5])),
    normal: [0.3, 0.5, 1],
    offset: 1,
    front: 2,
    back: 2,
    outlines: 1,
    holes: 0,
  },
  {
    name: 'a ball: two balls',
    mesh: () => scaled(icosphere(3), 12),
    normal: [1, 2, -1],
    offset: 3,
    front: 2,
    back: 2,
    outlines: 1,
    holes: 0,
  },
  {
    name: 'a torus through its axis: two balls',
    mesh: ring,
    normal: [1, 0.37, 0],
    offset: 0,
    front: 2,
    back: 2,
    outlines: 2,
    holes: 0,
  },
  {
    name: 'a torus square to its axis: two rings',
    mesh: ring,
    normal: [0, 0, 1],
    offset: 0.7,
    front: 0,
    back: 0,
    outlines: 1,
    holes: 1,
  },
  {
    name: 'a torus off its axis, within its hole: a ball and a ball',
    mesh: ring,
    normal: [1, 0.1, 0],
    offset: 6,
    front: 2,
    back: 2,
    outlines: 2,
    holes: 0,
  },
  {
    name: 'a torus through its flesh alone: a cap comes off the ring',
    mesh: ring,
    normal: [1, 0.1, 0.1],
    offset: 17,
    front: 2,
    back: 0,
    outlines: 1,
    holes: 0,
  },
  {
    name: 'a frame square to its hole: two frames',
    mesh: () => boxFrame(40, 16, 14),
    normal: [0, 0, 1],
    offset: 6,
    front: 0,
    back: 0,
    outlines: 1,
    holes: 1,
  },
  {
    name: 'a frame across its hole: two balls',
    mesh: () => boxFrame(40, 16, 14),
    normal: [1, 0.2, 0.1],
    offset: 1,
    front: 2,
    back: 2,
    outlines: 2,
    holes: 0,
  },
  {
    name: 'a hollow ball with a ball inside, through all three: two bowls, two halves within',
    mesh: () => nestedBalls(7),
    normal: [0.1, 0.2, 1],
    offset: 0.5,
    front: 4,
    back: 4,
    outlines: 2,
    holes: 1,
  },
];

describe('Euler characteristic of a capped cut: χ(A) + χ(B) = χ(M) + 2 χ(section) (additivity of χ; derived)', () => {
  const characteristic = (part: Part) => eulerCharacteristic(compactMesh(meshOf(part)));
  for (const { name, mesh: build, normal, offset, front, back, outlines, holes } of TOPOLOGY) {
    it(name, () => {
      const mesh = build();
      const cut = cutBy(mesh, normal, offset);
      const areas = loopsOf(cut).map(loopArea);
      expect(areas.filter((area) => area > 0)).toHaveLength(outlines);
      expect(areas.filter((area) => area < 0)).toHaveLength(holes);
      expect(characteristic(cut.front)).toBe(front);
      expect(characteristic(cut.back)).toBe(back);
      expect(front + back).toBe(eulerCharacteristic(mesh) + 2 * (outlines - holes));
      // The face's own triangles have the same χ as its outlines say.
      const face = compactMesh(meshOf(cut.back, ({ kind }) => kind === 'face'));
      expect(eulerCharacteristic(face)).toBe(outlines - holes);
    });
  }
});
