import bunny from 'bunny';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildHeron } from '../../src/demo/heron.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { fromFrame } from '../../src/math/plane.ts';
import { normalize, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import type { Job } from '../../src/model/job.ts';
import { setJoints } from '../../src/model/set-joints.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { suggestJoints } from '../../src/pipeline/suggest-joints.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import { jobOf, pegWith as peg, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { trials } from '../support/sweep.ts';

/** Joints that are placed for a person, on figures that were scanned and on a block. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const trying = async (mesh: Mesh) => {
  const sculpt = await sculptOf(mesh);
  const evaluator = createEvaluator(onlyHere(kernel), sculpt);
  const evaluate = (job: Job) => evaluator.evaluate(job);
  const suggest = (job: Job, seamId: string, count: number) =>
    suggestJoints(evaluate, job, seamId, count, sculpt.originMm);
  return { evaluate, suggest };
};

describe('joints that are placed for a seam', () => {
  it('are as many as were asked for, go in one way, and leave the wall that was asked', async () => {
    const { evaluate, suggest } = await trying(fanned(box([-20, -20, -20], [20, 20, 20])));
    const first = { kind: 'round', at: 'auto', sideGapMm: 0.2 } as const;
    const job = jobOf([{ pegOn: 'back', pegs: [first, peg({ at: [-9, 0, 0] })] }]);
    for (const count of [1, 2, 3, 4]) {
      const { joints, placed, wallMm, oneWay } = await suggest(job, 'neck', count);
      expect(placed).toBe(count);
      expect(oneWay).toBe(count > 1);
      expect(joints?.map(({ kind, sideGapMm }) => [kind, sideGapMm])).toEqual(
        Array.from({ length: count }, () => ['round', 0.2]),
      );
      const { evaluation } = await evaluate(setJoints(job, 'neck', joints!));
      expect(evaluation.seams[0].oneWay).toBe(count > 1);
      expect(Math.min(...evaluation.seams[0].joints.map((joint) => joint.wallMm.min))).toBe(wallMm);
      expect(evaluation.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
    }
  });

  it('are told to be fewer where a face has no room for so many', async () => {
    const { suggest } = await trying(fanned(box([-3, -3, -20], [3, 3, 20])));
    const job = jobOf([{ pegOn: 'back', pegs: [peg()] }]);
    const { joints, placed } = await suggest(job, 'neck', 4);
    expect(joints).toBeNull();
    expect(placed).toBeLessThan(4);
    const none = await suggest(job, 'elsewhere', 2);
    expect(none).toEqual({ joints: null, placed: 0, wallMm: 0, oneWay: false });
  });
});

const bunnyMesh = (): Mesh => {
  const positions = Float32Array.from(bunny.positions.flat());
  return { positions: positions.map((v) => v * 10), triangles: Uint32Array.from(bunny.cells.flat()) };
};

function armadilloMesh(): Mesh | null {
  const got = obtainArmadillo();
  if ('missing' in got) return null;
  const positions = offSoup(got.off, 200);
  return weld({ positions, triangles: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i) }).mesh;
}

/** Planes near the middle of a figure, by seeds. */
function sectionsOf(mesh: Mesh): { normal: Vec3; offsetMm: number }[] {
  const random = makeRandom(5_300);
  const lows = [0, 1, 2].map((k) =>
    mesh.positions.reduce((a, v, i) => (i % 3 === k ? Math.min(a, v) : a), Infinity),
  );
  const highs = [0, 1, 2].map((k) =>
    mesh.positions.reduce((a, v, i) => (i % 3 === k ? Math.max(a, v) : a), -Infinity),
  );
  return Array.from({ length: trials(7, 2) }, () => {
    const normal = normalize([random() - 0.5, random() - 0.5, random() - 0.5]);
    const middle = lows.map((low, k) => low + (highs[k] - low) * (0.35 + 0.3 * random()));
    return { normal, offsetMm: normal[0] * middle[0] + normal[1] * middle[1] + normal[2] * middle[2] };
  });
}

/** The middle of the area that an outline encloses, by fans from its first corner. */
function middleOf(outline: Float64Array): [number, number] {
  let [area, mx, my] = [0, 0, 0];
  for (let i = 2; i + 3 < outline.length; i += 2) {
    const [ax, ay] = [outline[i] - outline[0], outline[i + 1] - outline[1]];
    const [bx, by] = [outline[i + 2] - outline[0], outline[i + 3] - outline[1]];
    const twice = ax * by - ay * bx;
    area += twice;
    mx += (twice * (ax + bx)) / 3;
    my += (twice * (ay + by)) / 3;
  }
  return [outline[0] + mx / area, outline[1] + my / area];
}

const MIN_WALL = 0.8;
/** A whole sweep may take so long, ms. */
const LONG = 600_000;

describe('joints that are placed on sections of real figures', () => {
  const FIGURES: [string, () => Mesh | null][] = [
    ['the bunny', bunnyMesh],
    ['a scanned figure', armadilloMesh],
    ['the demo figure', () => buildHeron({ triangles: 20_000 })],
  ];
  for (const [name, figure] of FIGURES) {
    it(`leave the wall, go in one way, and stand better than in the middle: ${name}`, {
      timeout: LONG,
    }, async (context) => {
      const mesh = figure();
      if (mesh === null) return context.skip();
      const { evaluate, suggest } = await trying(mesh);
      let made = 0;
      for (const [i, plane] of sectionsOf(mesh).entries()) {
        const title = `${name}, section ${i}`;
        const job = jobOf([{ ...plane, pegs: [] }], { minWallMm: MIN_WALL });
        const { joints, placed } = await suggest(job, 'neck', 2);
        if (joints === null) {
          expect(placed, title).toBeLessThan(2);
          const twice = setJoints(
            job,
            'neck',
            ['a', 'b'].map((id) => ({ id, kind: 'taper', at: 'auto' })),
          );
          const codes = (await evaluate(twice)).evaluation.findings.map(({ code }) => code);
          expect(codes, title).toContain('no-peg-fits');
          continue;
        }
        made++;
        const outcome = await evaluate(setJoints(job, 'neck', joints));
        const { evaluation } = outcome;
        const [seam] = evaluation.seams;
        expect(seam.oneWay, title).toBe(true);
        for (const { wallMm } of seam.joints)
          expect(wallMm.min, title).toBeGreaterThanOrEqual(MIN_WALL - 1e-6);
        const told = evaluation.findings.map(({ code }) => code);
        for (const code of ['wall-thin', 'socket-breaks-skin', 'pegs-too-close', 'gap-not-met'] as const)
          expect(told, title).not.toContain(code);
        // One alone leaves no less wall than one of its sizes in the middle of the face.
        const alone = await suggest(job, 'neck', 1);
        const single = (await evaluate(setJoints(job, 'neck', alone.joints!))).evaluation.seams[0];
        if (single.joints.length > 1 || single.facets[0].outlines.length > 1) continue;
        const [{ settled, wallMm }] = single.joints;
        const at = fromFrame(single.facets[0].frame, middleOf(single.facets[0].outlines[0]));
        const inMiddle = (await evaluate(setJoints(job, 'neck', [{ ...settled, at }]))).evaluation.seams[0]
          .joints;
        expect(wallMm.min, title).toBeGreaterThanOrEqual((inMiddle.at(0)?.wallMm.min ?? 0) - 0.002);
      }
      expect(made).toBeGreaterThan(1);
    });
  }
});
