import type { Manifold } from 'manifold-3d';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, type PegInput, type SeamInput } from '../support/job.ts';
import { planeOf } from '../support/plane-of.ts';
import { isSound } from '../support/seam-fixture.ts';
import { bodiesOfPegs, kernelSolid, kernelSplit } from './kernel-reference.ts';
import { median, type Row, row, timed } from './row.ts';

/** Levels at which the demo figure is cut, mm, and how many joints are asked for at each: eight seams, twenty joints. */
const LEVELS: readonly (readonly [offsetMm: number, joints: number])[] = [
  [7, 4],
  [14, 4],
  [21, 3],
  [28, 3],
  [34, 2],
  [39, 2],
  [100, 1],
  [146, 1],
];

const AUTO: PegInput = { kind: 'taper', at: 'auto', widthMm: 3, heightMm: 3, lengthMm: 2.5 };

/** Each seam divides what is above the one before. */
const seamsWith = (pegsOf: (level: number) => PegInput[], shiftMm = 0): SeamInput[] =>
  LEVELS.map(([offsetMm], i) => ({
    id: `cut${i}`,
    of: i === 0 ? 'sculpt' : `cut${i - 1}.front`,
    offsetMm: offsetMm + (i === 2 ? shiftMm : 0),
    pegs: pegsOf(i),
  }));

/** The job with the first joint of the fifth seam moved so far along x, mm, and the third seam up; its own joints go with it. */
export type ManySeamsJob = (jointMm: number, seamMm: number) => Job;

/** The job of eight seams with twenty joints, where the engine places them on a figure, and what has worked it out. */
export async function manySeamsJob(
  kernel: Kernel,
  sculpt: Sculpt,
): Promise<{ jobWith: ManySeamsJob; evaluator: ReturnType<typeof createEvaluator> }> {
  const evaluator = createEvaluator(onlyHere(kernel), sculpt);
  const asked = jobOf(seamsWith((i) => Array.from({ length: LEVELS[i][1] }, () => AUTO)));
  const { evaluation } = await evaluator.evaluate(asked);
  const placed = evaluation.seams.map(({ joints }) =>
    joints.map(({ settled }): PegInput => ({ ...AUTO, at: settled.at })),
  );
  const count = placed.flat().length;
  if (count !== 20) throw new Error(`the job has ${placed.map((one) => one.length)} joints`);
  const jobWith = (jointMm: number, seamMm: number): Job =>
    jobOf(
      seamsWith(
        (i) =>
          placed[i].map((peg, j) => {
            const [x, y, z] = peg.at as readonly [number, number, number];
            return { ...peg, at: [x + (i === 4 && j === 0 ? jointMm : 0), y, z + (i === 2 ? seamMm : 0)] };
          }),
        seamMm,
      ),
    );
  return { jobWith, evaluator };
}

/**
 * A job of eight seams with twenty joints: one joint moved, and the third seam moved with all that is above it cut again; against the
 * kernel doing the whole job on the figure's solid.
 */
export async function manySeamsRows(
  kernel: Kernel,
  sculpt: Sculpt,
  who: { name: string; triangles: number },
  runs: number,
): Promise<Row[]> {
  const { jobWith, evaluator } = await manySeamsJob(kernel, sculpt);
  const joint: number[] = [];
  const seam: number[] = [];
  let closed = true;
  await evaluator.evaluate(jobWith(0, 0));
  for (let turn = 1; turn <= runs; turn++) {
    joint.push(await timed(() => evaluator.evaluate(jobWith(0.05 * turn, 0))));
    seam.push(await timed(() => evaluator.evaluate(jobWith(0.05 * turn, 0.02 * turn))));
    const { tree } = await evaluator.evaluate(jobWith(0.05 * turn, 0));
    closed &&= tree.parts.length === 9 && tree.parts.every(({ part }) => isSound(part));
  }
  // Once: the kernel takes a minute for it.
  const theirs = await kernelTime(kernel, sculpt, jobWith(0, 0));
  const held = {
    reference: theirs,
    against: 'kernel: eight splits, unions, differences, read-out',
    closed,
  };
  return [
    row('eight seams, twenty joints: one joint moved', who, median(joint), { ...held, atMost: 0.01 }),
    row('eight seams, twenty joints: the third seam moved', who, median(seam), { ...held, atMost: 0.05 }),
  ];
}

/** How long the kernel takes for a job's parts from the figure's solid, ms. */
async function kernelTime(kernel: Kernel, { mesh, originMm }: Sculpt, job: Job): Promise<number> {
  const whole = kernelSolid(kernel, mesh);
  const bodies = job.seams.map((seam) => ({
    pegs: bodiesOfPegs(kernel, seam, 'add').map((body) => moved(body, originMm)),
    sockets: bodiesOfPegs(kernel, seam, 'take').map((body) => moved(body, originMm)),
  }));
  const own: Manifold[] = [];
  const time = await timed(() => {
    let rest = whole;
    const finish = (part: Manifold, pegs: readonly Manifold[], sockets: readonly Manifold[]) => {
      const pegged = kernel.Manifold.union([part, ...pegs]);
      const done = kernel.Manifold.difference([pegged, ...sockets]);
      done.getMesh();
      own.push(part, pegged, done);
    };
    job.seams.forEach((seam, i) => {
      const { normal, offsetMm } = planeOf(seam);
      const offset = offsetMm - normal.reduce((sum, n, k) => sum + n * originMm[k], 0);
      const [front, back] = kernelSplit(rest, normal, offset);
      finish(back, bodies[i].pegs, i > 0 ? bodies[i - 1].sockets : []);
      if (rest !== whole) own.push(rest);
      rest = front;
    });
    finish(rest, [], bodies[bodies.length - 1].sockets);
  });
  for (const solid of [...own, whole, ...bodies.flatMap(({ pegs, sockets }) => [...pegs, ...sockets])])
    solid.delete();
  return time;
}

/** A body of the file's coordinates in the sculpt's own. */
function moved(body: Manifold, [x, y, z]: readonly [number, number, number]): Manifold {
  const there = body.translate([-x, -y, -z]);
  body.delete();
  return there;
}
