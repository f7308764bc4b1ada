import type { Manifold } from 'manifold-3d';
import { memorySource } from '../../src/io/source.ts';
import { closedBody } from '../../src/joint/joint.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import { plane } from '../../src/math/plane.ts';
import { meshOf } from '../../src/mesh/part.ts';
import { checkStep } from '../../src/pipeline/check-step.ts';
import { cutStep, wholePart } from '../../src/pipeline/cut-step.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { type JointedTree, jointStep } from '../../src/pipeline/joint-step.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import { threePegJob } from './bench-job.ts';
import { kernelCutAndJoin, kernelJoin, kernelOpen, kernelSolid, looseCorners } from './kernel-reference.ts';

/** One line of the table: medians, ms, and what the ratio is held against. */
export interface Row {
  what: string;
  triangles: number;
  oursMs: number;
  referenceMs: number;
  reference: string;
  ratio: number;
}

const silent = () => {};
const median = (values: number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1];

/** Both measured in turns in this process, after one unmeasured turn. */
async function compare(runs: number, ours: (turn: number) => unknown, theirs: (turn: number) => unknown) {
  const times: [number[], number[]] = [[], []];
  for (let turn = 0; turn <= runs; turn++) {
    for (const [which, work] of [ours, theirs].entries()) {
      const start = performance.now();
      await work(turn);
      if (turn > 0) times[which].push(performance.now() - start);
    }
  }
  return { oursMs: median(times[0]), referenceMs: median(times[1]) };
}

/** All rows for one figure. `bytes` is a binary STL. */
export async function rowsFor(kernel: Kernel, bytes: Uint8Array, runs: number): Promise<Row[]> {
  const open = () => openSculpt(memorySource('figure.stl', bytes), { unit: 'mm', scale: 1 });
  const sculpt = await open();
  const triangles = sculpt.mesh.triangles.length / 3;
  const row = (what: string, reference: string, times: { oursMs: number; referenceMs: number }): Row => ({
    what,
    triangles,
    reference,
    ...times,
    ratio: times.oursMs / times.referenceMs,
  });
  const corners = looseCorners(bytes);
  const opening = await compare(runs, open, () => kernelOpen(kernel, corners).delete());
  const { whole, pegs, sockets, front, back } = kernelSide(kernel, sculpt);
  const [seam] = threePegJob().seams;
  const first = await compare(
    runs,
    () => finishedParts(kernel, sculpt, 0),
    () => kernelCutAndJoin(kernel, whole, seam.plane.normal, seam.plane.offsetMm, pegs, sockets),
  );
  const cut = cutStep(kernel, threePegJob(), sculpt, wholePart(sculpt), new Map(), silent);
  const joints = new Map();
  const moved = await compare(
    runs,
    (turn) => assembled(jointStep(kernel, threePegJob(turn * 0.02), cut, sculpt.originMm, joints, silent)),
    () => kernelJoin(kernel, front, back, pegs, sockets),
  );
  const tree = jointStep(kernel, threePegJob(), cut, sculpt.originMm, new Map(), silent);
  const measured = await compare(
    runs,
    () => checkStep(threePegJob(), sculpt, tree, silent),
    () => kernelCutAndJoin(kernel, whole, seam.plane.normal, seam.plane.offsetMm, pegs, sockets),
  );
  const outline = await outlineTimes(kernel, sculpt, runs * 8);
  for (const solid of [whole, front, back, ...pegs, ...sockets]) solid.delete();
  return [
    row('open: bytes to ready', 'merge + construct', opening),
    row('outline at a random plane, p95', 'one pass over all triangles', outline),
    row('first cut with three pegs', 'split + union + difference + read-out', first),
    row('one peg moved', 'union + difference + read-out', moved),
    row('gap and wall of three pegs', 'split + union + difference + read-out', measured),
  ];
}

function finishedParts(kernel: Kernel, sculpt: Sculpt, shift: number) {
  const job = threePegJob(shift);
  const cut = cutStep(kernel, job, sculpt, wholePart(sculpt), new Map(), silent);
  return assembled(jointStep(kernel, job, cut, sculpt.originMm, new Map(), silent));
}

function assembled(tree: JointedTree) {
  const ways = tree.seams.flatMap(({ pegs }) => pegs.map(({ way }) => way));
  if (ways.length !== 3 || ways.some((way) => way !== 'local')) throw new Error(`joints went ${ways.join()}`);
  return tree.parts.map(({ part }) => meshOf(part));
}

/** The kernel's solids for the same work: figure, halves, and the very bodies that are joined. */
function kernelSide(kernel: Kernel, sculpt: Sculpt) {
  const job = threePegJob();
  const tree = createEvaluator(kernel, sculpt).evaluate(job).tree;
  const whole = kernelSolid(kernel, sculpt.mesh);
  const { normal, offsetMm } = job.seams[0].plane;
  const [front, back] = whole.splitByPlane([...normal], offsetMm);
  front.numTri();
  back.numTri();
  const body = (role: 'pegJoint' | 'socketJoint'): Manifold[] =>
    tree.seams[0].pegs.map((peg) => kernelSolid(kernel, closedBody(peg[role], 1)));
  return { whole, front, back, pegs: body('pegJoint'), sockets: body('socketJoint') };
}

/** 95th percentiles over seeded planes. */
async function outlineTimes(kernel: Kernel, sculpt: Sculpt, planes: number) {
  const evaluator = createEvaluator(kernel, sculpt);
  const ours: number[] = [];
  const brute: number[] = [];
  let seed = 20_231;
  const random = () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31;
    return seed / 2 ** 31;
  };
  const { min, max } = sculpt.boundsMm;
  for (let i = 0; i < planes + 3; i++) {
    const normal = [random() - 0.5, random() - 0.5, random() - 0.5] as const;
    const through = min.map((low, k) => low + (0.2 + 0.6 * random()) * (max[k] - low));
    const l = Math.hypot(...normal);
    const offset = (normal[0] * through[0] + normal[1] * through[1] + normal[2] * through[2]) / l;
    const start = performance.now();
    evaluator.outline('any', plane([...normal], offset));
    const middle = performance.now();
    crossings(
      sculpt,
      normal.map((c) => c / l),
      offset,
    );
    if (i < 3) continue;
    ours.push(middle - start);
    brute.push(performance.now() - middle);
  }
  const p95 = (values: number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length * 0.95)];
  return { oursMs: p95(ours), referenceMs: p95(brute) };
}

/** The plainest pass: each triangle's corners against the plane. */
function crossings(
  { mesh: { positions: p, triangles: t } }: Sculpt,
  n: readonly number[],
  offset: number,
): number {
  let count = 0;
  for (let i = 0; i < t.length; i += 3) {
    let front = 0;
    for (let k = 0; k < 3; k++) {
      const v = t[i + k] * 3;
      if (n[0] * p[v] + n[1] * p[v + 1] + n[2] * p[v + 2] > offset) front++;
    }
    if (front === 1 || front === 2) count++;
  }
  return count;
}
