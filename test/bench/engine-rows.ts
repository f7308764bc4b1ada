import type { Manifold } from 'manifold-3d';
import { PegwrightError } from '../../src/errors.ts';
import { memorySource } from '../../src/io/bytes/source.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import { proveSolid } from '../../src/kernel/prove.ts';
import { fromFrame, movePlane, type Plane, plane } from '../../src/math/plane.ts';
import { pointInside } from '../../src/math/point-inside.ts';
import { loopArea } from '../../src/math/polygon.ts';
import { blocksOf } from '../../src/mesh/near/blocks.ts';
import { meshOf, type Part } from '../../src/mesh/part/part.ts';
import type { Job } from '../../src/model/job.ts';
import { planeSeam } from '../../src/model/seam-spec.ts';
import { checkStep } from '../../src/pipeline/check-step.ts';
import { cutStep, placeOf, wholePart } from '../../src/pipeline/cut-step.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { faceOutlines } from '../../src/pipeline/face-outline.ts';
import { type JointedTree, jointStep } from '../../src/pipeline/joint-step.ts';
import { solidToProve } from '../../src/pipeline/proof.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import type { Bound } from '../../src/seam/bounded/bound-trace.ts';
import { cutPart } from '../../src/seam/cut.ts';
import { planeOf } from '../support/plane-of.ts';
import { isSound } from '../support/seam-fixture.ts';
import { type BenchFigure, bytesOf } from './figures.ts';
import {
  bodiesOf,
  kernelJoin,
  kernelOpen,
  kernelSolid,
  kernelSplit,
  looseCorners,
} from './kernel-reference.ts';
import { limbRows } from './limb-rows.ts';
import { median, percentile, type Row, row, timed } from './row.ts';
import { sheetRow } from './sheet-row.ts';

const silent = () => {};
const openBytes = (bytes: Uint8Array) =>
  openSculpt(memorySource('figure.stl', bytes), { unit: 'mm', scale: 1 });

/** Medians of our own steps alone, for sizes the kernel cannot hold and for growth. */
export interface OwnTimes {
  triangles: number;
  read: number;
  cut: number;
  joint: number;
  moved: number;
}

/** All rows for one figure that are measured in this process; the kernel's side only where asked. */
export async function engineRows(
  kernel: Kernel,
  figure: BenchFigure,
  runs: number,
  withKernel: boolean,
): Promise<{ rows: Row[]; own: OwnTimes }> {
  const bytes = bytesOf(figure.path);
  const sculpt = await openBytes(bytes);
  const who = { name: figure.name, triangles: sculpt.mesh.triangles.length / 3 };
  const job = await figure.jobFor(kernel, sculpt);
  const rows: Row[] = [];
  const opening = await openingRow(kernel, bytes, who, runs, withKernel);
  rows.push(...opening.rows);
  rows.push(indexRow(sculpt, who, runs), ...outlineRows(kernel, sculpt, who, runs * 20));
  rows.push(
    ...limbRows(createEvaluator(onlyHere(kernel), sculpt), sculpt, who, runs * 20, () =>
      crossings(sculpt, [0.36, 0.48, 0.8], 20),
    ),
  );
  rows.push(boundedRow(kernel, sculpt, who, runs * 4));
  if (withKernel) rows.push(sheetRow(kernel, sculpt, who, runs));
  const own = await ownTimes(kernel, sculpt, job, runs);
  const parts = await finished(kernel, sculpt, job(0));
  const closed = parts.every((part) => isSound(part));
  if (withKernel) {
    const theirs = await kernelTimes(kernel, sculpt, job(0), runs);
    const whole = {
      reference: theirs.split + theirs.join,
      against: 'kernel split + union + difference + read-out',
    };
    rows.push(
      row('first cut with three pegs, both parts', who, own.first, { ...whole, atMost: 0.04, closed }),
      row('one peg moved, both parts', who, own.moved, {
        reference: theirs.join,
        against: 'kernel union + difference + read-out',
        atMost: 0.02,
        closed,
      }),
      row('the same, copied out as two meshes', who, own.movedOut, {
        reference: theirs.join,
        against: 'kernel union + difference + read-out',
      }),
      row(
        'one peg moved against another, both parts by the collar',
        who,
        await collarTime(kernel, sculpt, job(0), runs),
        {
          reference: theirs.join,
          against: 'kernel union + difference + read-out',
        },
      ),
      row('gap and wall of three pegs', who, own.measured, { ...whole, atMost: 0.1 }),
      row('background proof of both parts by the kernel', who, proofTime(kernel, parts, runs), {
        reference: theirs.construct + theirs.split + theirs.join,
        against: 'kernel construct + split + union + difference + read-out',
        atMost: 0.5,
      }),
    );
  } else {
    rows.push(row('first cut with three pegs, both parts', who, own.first, { closed }));
    rows.push(row('one peg moved, both parts', who, own.moved, { closed }));
  }
  return { rows, own: { triangles: who.triangles, read: opening.ours, ...own } };
}

async function openingRow(
  kernel: Kernel,
  bytes: Uint8Array,
  who: { name: string; triangles: number },
  runs: number,
  withKernel: boolean,
): Promise<{ rows: Row[]; ours: number }> {
  const corners = withKernel ? looseCorners(bytes) : null;
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let turn = 0; turn < runs; turn++) {
    ours.push(await timed(() => openBytes(bytes)));
    if (corners) theirs.push(await timed(() => kernelOpen(kernel, corners).delete()));
  }
  const reference = corners ? median(theirs) : null;
  const against = corners ? 'kernel merge + construct' : '';
  return {
    ours: median(ours),
    rows: [
      row('open: bytes to ready to cut', who, median(ours), {
        reference,
        against,
        atMost: corners ? 0.2 : null,
      }),
    ],
  };
}

function indexRow({ mesh }: Sculpt, who: { name: string; triangles: number }, runs: number): Row {
  const times = Array.from({ length: runs }, () => {
    const triangles = mesh.triangles.slice();
    const start = performance.now();
    blocksOf({ positions: mesh.positions, added: new Float32Array(0) }, triangles);
    return performance.now() - start;
  });
  return row('index built over the skin', who, median(times));
}

/** 95th percentiles over seeded planes through the figure. */
function outlineRows(
  kernel: Kernel,
  sculpt: Sculpt,
  who: { name: string; triangles: number },
  planes: number,
): Row[] {
  const evaluator = createEvaluator(onlyHere(kernel), sculpt);
  const ours: number[] = [];
  const brute: number[] = [];
  let seed = 20_231;
  const random = () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31;
    return seed / 2 ** 31;
  };
  const { min, max } = sculpt.boundsMm;
  const warm = 20;
  for (let i = 0; i < planes + warm; i++) {
    const normal = [random() - 0.5, random() - 0.5, random() - 0.5] as const;
    const through = min.map((low, k) => low + (0.2 + 0.6 * random()) * (max[k] - low));
    const l = Math.hypot(...normal);
    const offset = (normal[0] * through[0] + normal[1] * through[1] + normal[2] * through[2]) / l;
    const start = performance.now();
    evaluator.outline('any', planeSeam([...normal], offset));
    const middle = performance.now();
    crossings(
      sculpt,
      normal.map((c) => c / l),
      offset,
    );
    if (i < warm) continue;
    ours.push(middle - start);
    brute.push(performance.now() - middle);
  }
  const against = 'one pass over all triangles, the same percentile';
  const atMost = who.triangles > 500_000 ? 0.3 : null;
  return [
    row('outline at a random plane, p95', who, percentile(ours, 0.95), {
      reference: percentile(brute, 0.95),
      against,
      atMost,
    }),
    row('outline at a random plane, median', who, median(ours), { reference: median(brute), against }),
  ];
}

/** A cut of one outline of several against the cut of them all, turn by turn on one part. */
function boundedRow(
  kernel: Kernel,
  sculpt: Sculpt,
  who: { name: string; triangles: number },
  runs: number,
): Row {
  const part = wholePart(sculpt);
  const { at, bound } = severalOutlines(kernel, sculpt, part);
  const cut = (chosen?: Bound) => {
    const start = performance.now();
    const made = cutPart(kernel, part, at, 'seam', [0, 0, 0], chosen);
    return { ms: performance.now() - start, made };
  };
  const plain: number[] = [];
  const bounded: number[] = [];
  let closed = true;
  for (let turn = -WARM_TURNS; turn < runs; turn++) {
    const [all, some] = [cut(), cut(bound)];
    if (turn < 0) closed &&= isSound(some.made.front) && isSound(some.made.back);
    else {
      plain.push(all.ms);
      bounded.push(some.ms);
    }
  }
  return row('bounded cut, one outline of several', who, median(bounded), {
    reference: median(plain),
    against: 'the cut of all outlines by the same plane',
    atMost: who.triangles > 500_000 ? 1.2 : null,
    closed,
  });
}

/** The first of some planes square to an axis that meets a figure in several outlines, one of which frees a part; and that one. */
function severalOutlines(kernel: Kernel, sculpt: Sculpt, part: Part): { at: Plane; bound: Bound } {
  const { boundsMm, originMm } = sculpt;
  for (let step = 1; step < 60; step++) {
    const axis = [2, 1, 0][step % 3];
    const normal = [0, 1, 2].map((k) => (k === axis ? 1 : 0)) as unknown as [number, number, number];
    const share = (step * 0.37) % 1;
    const offset = boundsMm.min[axis] + share * (boundsMm.max[axis] - boundsMm.min[axis]);
    const [face] = faceOutlines(kernel, [part], planeSeam(normal, offset), placeOf(sculpt));
    for (const loop of face.outlines.filter((one) => face.outlines.length > 1 && loopArea(one) > 10)) {
      const bound = { through: [fromFrame(face.frame, pointInside(loop))], originMm };
      const at = movePlane(plane(normal, offset), originMm);
      try {
        const isBounded = cutPart(kernel, part, at, 'seam', [0, 0, 0], bound).facets[0].uncut.length > 0;
        // Both are to go the same way: where outlines of the whole cut cross, that is the kernel's.
        if (isBounded && cutPart(kernel, part, at, 'seam', [0, 0, 0]).way === 'local') return { at, bound };
      } catch (thrown) {
        if (!(thrown instanceof PegwrightError)) throw thrown;
      }
    }
  }
  throw new Error('no plane meets several outlines');
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

async function finished(kernel: Kernel, sculpt: Sculpt, job: Job): Promise<Part[]> {
  const cut = cutStep(kernel, job, sculpt, wholePart(sculpt), new Map(), silent);
  return local(await jointStep(onlyHere(kernel), job, cut, sculpt.originMm, new Map(), silent));
}

const waysOf = ({ seams }: JointedTree) => seams.flatMap(({ joints }) => joints.map(({ way }) => way));

function local(tree: JointedTree): Part[] {
  const ways = waysOf(tree);
  if (ways.length !== 3 || ways.some((way) => way !== 'local')) throw new Error(`joints went ${ways.join()}`);
  return tree.parts.map(({ part }) => part);
}

/** Median over places of the first peg so near the second that their sockets meet. */
async function collarTime(kernel: Kernel, sculpt: Sculpt, job: Job, runs: number): Promise<number> {
  const step = editing(kernel, sculpt);
  await step(job);
  const times: number[] = [];
  for (let turn = -WARM_TURNS; turn < runs; turn++) {
    const near = crowded(job, 1.5 + 0.02 * (turn + WARM_TURNS));
    const start = performance.now();
    const tree = await step(near);
    if (turn >= 0) times.push(performance.now() - start);
    const ways = waysOf(tree).join();
    if (ways !== 'collar,collar,local') throw new Error(`joints went ${ways}`);
  }
  return median(times);
}

/** The first peg moved to within so many mm of the second. */
function crowded(job: Job, mm: number): Job {
  const [seam] = job.seams;
  const [first, second, ...others] = seam.joints;
  if (first.at === 'auto' || second.at === 'auto') throw new Error('a peg is to be placed');
  const [from, to] = [second.at, first.at];
  const share = mm / Math.hypot(...from.map((c, k) => to[k] - c));
  const at = [0, 1, 2].map((k) => from[k] + share * (to[k] - from[k])) as unknown as typeof from;
  return { ...job, seams: [{ ...seam, joints: [{ ...first, at }, second, ...others] }] };
}

/** Cuts and joins job after job as the evaluator does, keeping what an edit does not touch. */
function editing(kernel: Kernel, sculpt: Sculpt): (job: Job) => Promise<JointedTree> {
  const whole = wholePart(sculpt);
  const [cuts, joints] = [new Map(), new Map()];
  return (job) => {
    const cut = cutStep(kernel, job, sculpt, whole, cuts, silent);
    return jointStep(onlyHere(kernel), job, cut, sculpt.originMm, joints, silent);
  };
}

/** Turns before measuring begins: the first ones are the compiler's. */
const WARM_TURNS = 6;

/** Medians of our steps, warm. */
async function ownTimes(kernel: Kernel, sculpt: Sculpt, job: (shift: number) => Job, runs: number) {
  const times = { first: [], cut: [], joint: [], moved: [], movedOut: [], measured: [] } as Record<
    string,
    number[]
  >;
  for (let turn = -WARM_TURNS; turn < runs; turn++) {
    const t = [performance.now()];
    const lap = () => t.push(performance.now());
    const cut = cutStep(kernel, job(0), sculpt, wholePart(sculpt), new Map(), silent);
    lap();
    local(await jointStep(onlyHere(kernel), job(0), cut, sculpt.originMm, new Map(), silent));
    lap();
    const step = editing(kernel, sculpt);
    const first = await step(job(0));
    const moved: number[] = [];
    const movedOut: number[] = [];
    for (let k = 1; k <= 5; k++) {
      const start = performance.now();
      const parts = local(await step(job(k * 0.02)));
      moved.push(performance.now() - start);
      for (const part of parts) meshOf(part);
      movedOut.push(performance.now() - start);
    }
    checkStep(job(0), sculpt, first, silent); // what is kept with the skins is built
    const start = performance.now();
    checkStep(job(0.011), sculpt, await step(job(0.011)), silent);
    const measured = performance.now() - start;
    if (turn < 0) continue;
    times.first.push(t[2] - t[0]);
    times.cut.push(t[1] - t[0]);
    times.joint.push(t[2] - t[1]);
    times.moved.push(median(moved));
    times.movedOut.push(median(movedOut));
    times.measured.push(measured);
  }
  return {
    first: median(times.first),
    cut: median(times.cut),
    joint: median(times.joint),
    moved: median(times.moved),
    movedOut: median(times.movedOut),
    measured: median(times.measured),
  };
}

/** Medians of the raw kernel's steps on the same mesh and bodies. */
async function kernelTimes(kernel: Kernel, sculpt: Sculpt, job: Job, runs: number) {
  const { tree } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(job);
  const { normal, offsetMm } = planeOf(job.seams[0]);
  const bodies = (does: 'add' | 'take'): Manifold[] =>
    bodiesOf(tree.seams[0].joints, does).map((body) => kernelSolid(kernel, body));
  const [pegs, sockets] = [bodies('add'), bodies('take')];
  const onBack = job.seams[0].pegOn === 'back';
  const times = { construct: [], split: [], join: [] } as Record<'construct' | 'split' | 'join', number[]>;
  for (let turn = 0; turn < runs; turn++) {
    const t = [performance.now()];
    const whole = kernelSolid(kernel, sculpt.mesh);
    t.push(performance.now());
    const [front, back] = kernelSplit(whole, normal, offsetMm);
    t.push(performance.now());
    kernelJoin(kernel, onBack ? front : back, onBack ? back : front, pegs, sockets);
    t.push(performance.now());
    times.construct.push(t[1] - t[0]);
    times.split.push(t[2] - t[1]);
    times.join.push(t[3] - t[2]);
    for (const solid of [whole, front, back]) solid.delete();
  }
  for (const solid of [...pegs, ...sockets]) solid.delete();
  return { construct: median(times.construct), split: median(times.split), join: median(times.join) };
}

function proofTime(kernel: Kernel, parts: readonly Part[], runs: number): number {
  return median(
    Array.from({ length: runs }, () => {
      const start = performance.now();
      for (const part of parts) {
        const solid = solidToProve(part);
        if (!solid || 'refused' in proveSolid(kernel, solid))
          throw new Error('the kernel does not take a part');
      }
      return performance.now() - start;
    }),
  );
}
