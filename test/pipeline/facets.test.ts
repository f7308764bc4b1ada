import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { planeFrame } from '../../src/math/plane.ts';
import type { Part, Patch, PatchOf } from '../../src/mesh/part/part.ts';
import { NOTHING_ADDED } from '../../src/mesh/part/vertices.ts';
import type { Job } from '../../src/model/job.ts';
import { checkStep } from '../../src/pipeline/check-step.ts';
import { type CutTree, wholePart } from '../../src/pipeline/cut-step.ts';
import { jointStep } from '../../src/pipeline/joint-step.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, type Polyhedron } from '../support/simple-solids.ts';

/** A block of 40 × 20 × 20 mm that a seam divides along a stair: level at z = 8 up to x = 20, and at z = 12 from there. */

const STEPS = [8, 12];

let kernel: Kernel;
let sculpt: Sculpt;
beforeAll(async () => {
  kernel = await loadKernel();
  sculpt = await sculptOf(fanned(box([0, 0, 0], [40, 20, 20])));
});

/** The prism from y = 0 to y = 20 over a polygon of x and z, counter-clockwise seen from −y, whose first corner sees all others. */
function prism(corners: readonly (readonly [number, number])[]): Polyhedron {
  const count = corners.length;
  const vertices = [0, 20].flatMap((y) => corners.map(([x, z]): [number, number, number] => [x, y, z]));
  const near = corners.map((_, i) => i);
  const far = [count, ...near.slice(1).map((i) => 2 * count - i)];
  const sides = near.map((i) => {
    const j = (i + 1) % count;
    return [i, i + count, j + count, j];
  });
  return { vertices, faces: [near, far, ...sides] };
}

/** Its triangles as patches: those level at a step are that facet's. */
function partOf(solid: Polyhedron): Part {
  const { positions, triangles } = fanned(solid);
  const runs = new Map<number, number[]>([-1, 0, 1].map((facet) => [facet, []]));
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = triangles.subarray(i, i + 3);
    const facet = STEPS.findIndex((z) => corners.every((v) => positions[v * 3 + 2] === z));
    runs.get(facet)?.push(...corners);
  }
  const of = (facet: number): PatchOf =>
    facet < 0 ? { kind: 'skin' } : { kind: 'face', seamId: 'neck', facet };
  const patches = [...runs].map(
    ([facet, run]): Patch => ({ of: of(facet), triangles: Uint32Array.from(run) }),
  );
  return { positions, added: NOTHING_ADDED, patches };
}

function stair(job: Job): CutTree {
  const [seam] = job.seams;
  const back = partOf(
    prism([
      [20, 8],
      [0, 8],
      [0, 0],
      [40, 0],
      [40, 12],
      [20, 12],
    ]),
  );
  const front = partOf(
    prism([
      [20, 12],
      [40, 12],
      [40, 20],
      [0, 20],
      [0, 8],
      [20, 8],
    ]),
  );
  const facets = STEPS.map((offset, i) => ({
    frame: planeFrame({ normal: [0, 0, 1], offset }, [10 + 20 * i, 10, offset]),
    uncut: [],
  }));
  const draw = { axis: [0, 0, 1], isClear: true, playMm: 0 } as const;
  const plain = (side: 'front' | 'back', part: Part) => ({
    id: `neck.${side}`,
    name: side,
    part,
    sides: new Map([['neck', side]]),
  });
  return {
    parts: [plain('front', front), plain('back', back)],
    seams: [{ seam, of: [wholePart(sculpt)], cut: { way: 'local', front, back, facets, draw } }],
    waiting: [],
  };
}

async function made(pegs: PegInput[]) {
  const job = jobOf([{ pegs }]);
  const tree = await jointStep(onlyHere(kernel), job, stair(job), sculpt.originMm, new Map(), () => {});
  return { tree, checked: checkStep(job, sculpt, tree, () => {}) };
}

const inFile = ([x, y, z]: readonly [number, number, number]) =>
  [0, 1, 2].map((k) => [x, y, z][k] + sculpt.originMm[k]) as unknown as readonly [number, number, number];

describe('a seam of two facets', () => {
  it('has the stair’s parts closed, and both faces in its result', async () => {
    const { tree, checked } = await made([]);
    expect(sculpt.originMm).toEqual([0, 0, 0]);
    expect(tree.parts.map(({ part }) => isSound(part))).toEqual([true, true]);
    expect(checked.seams[0].facets.map(({ areaMm2 }) => areaMm2)).toEqual([400, 400]);
    expect(checked.seams[0].areaMm2).toBe(800);
  });

  it('sets a joint on the facet that its place is over, joins it there alone and measures it', async () => {
    const { tree, checked } = await made([
      { kind: 'taper', at: inFile([30, 10, 12]), widthMm: 6 },
      { kind: 'round', at: inFile([10, 10, 8.5]), diameterMm: 5 },
    ]);
    const [{ joints, oneWay }] = checked.seams;
    expect(joints.map(({ facet, way }) => [facet, way])).toEqual([
      [1, 'local'],
      [0, 'local'],
    ]);
    expect(joints.map(({ settled }) => settled.at[2])).toEqual([12, 8]);
    for (const { sideGapMm, endGapMm, wallMm } of joints) {
      expect(Math.abs((sideGapMm?.min ?? 0) - 0.12)).toBeLessThan(0.005);
      expect(Math.abs((endGapMm?.max ?? 0) - 0.4)).toBeLessThan(0.005);
      expect(wallMm.min).toBeGreaterThan(1.2);
    }
    expect(oneWay).toBe(true);
    expect(tree.parts.map(({ part }) => isSound(part))).toEqual([true, true]);
    expect(Math.abs(checked.volume.residualMm3)).toBeLessThan(1e-3);
    expect(checked.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('gives each facet one of the joints that seek their own place', async () => {
    const { checked } = await made([{ kind: 'taper', at: 'auto' }]);
    expect(checked.seams[0].joints.map(({ facet, index }) => [facet, index])).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  it('counts the riser between them as skin that a socket is to keep a wall to', async () => {
    const { checked } = await made([{ kind: 'taper', at: inFile([15.6, 10, 8]), widthMm: 8, lengthMm: 3 }]);
    // The socket is in the front, and the riser bounds the back: the wall is the one at the face's own edge.
    const [{ joints }] = checked.seams;
    expect(joints[0].faceWall?.mm).toBeCloseTo(0.4 - 0.12, 1);
    expect(checked.findings.map(({ code }) => code)).toContain('wall-thin');
  });
});
