import { readFile } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { stillStanding } from '../check/still-standing.ts';
import { PegwrightError } from '../errors.ts';
import { partFiles } from '../handoff/write-parts.ts';
import type { ByteSource } from '../io/bytes/source.ts';
import { PART_FORMATS, type PartFormat } from '../io/writers.ts';
import { onlyHere } from '../kernel/kernels.ts';
import { loadKernel } from '../kernel/load.ts';
import { add } from '../math/vec3.ts';
import type { Repair } from '../mend/report/repair.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import { bareName } from '../model/part-ref.ts';
import { createEvaluator, type Evaluated } from '../pipeline/evaluate.ts';
import type { Evaluation } from '../pipeline/evaluation.ts';
import { judgeProofs, type PartProof } from '../pipeline/prove-parts.ts';
import { readJob } from '../pipeline/read-job.ts';
import { openSculpt, type Sculpt } from '../pipeline/sculpt.ts';
import { toGet } from '../pipeline/to-get.ts';
import type { OnProgress } from '../progress.ts';
import { badUsage, readArguments, readChoice } from './arguments.ts';
import { openFileSet } from './file-set.ts';
import { fileSource } from './file-source.ts';
import { printedOutlines } from './printed-outlines.ts';
import { type Prover, proverFor } from './prover.ts';
import { systemTrouble } from './system-trouble.ts';
import { exitCodeOf, printedFindings, printJson, stderrProgress } from './terminal.ts';

const OPTIONS = {
  out: { type: 'string' },
  files: { type: 'string' },
  strict: { type: 'boolean' },
} as const;

const REPORT = 'report.json';

/** `make JOB.json --out DIR`: writes the parts and `report.json`, and prints the report. */
export async function make(args: string[], formats = PART_FORMATS): Promise<number> {
  const { file, values } = readArguments(args, OPTIONS, 'job');
  if (typeof values.out !== 'string') {
    throw badUsage({ is: 'value-missing', option: '--out', wanted: 'folder' });
  }
  const format = readFormat(values.files, formats);
  const start = performance.now();
  const job = await openJob(file);
  const { file: first, also = [] } = job.sculpt;
  const paths = [first, ...also].map((name) => resolve(dirname(file), name));
  const sources = await Promise.all(paths.map(fileSource));
  const bytes = sources.reduce((sum, { byteLength }) => sum + byteLength, 0);
  const prover = await proverFor(bytes, job.seams.length + 1);
  try {
    const made = await makeParts(file, job, sources, prover, start);
    const isStrict = values.strict === true;
    return await handOver(made, { folder: values.out, format, isStrict, inputs: [file, ...paths] });
  } finally {
    prover.end();
  }
}

/** A job's parts, and their proofs under way. */
interface Made extends Evaluated {
  job: Job;
  sculpt: Sculpt;
  proofs: Promise<PartProof[]>;
  onProgress: OnProgress;
  start: number;
  timingsMs: { read: number; audit: number } & Evaluation['timingsMs'];
}

async function makeParts(
  file: string,
  job: Job,
  sources: readonly ByteSource[],
  prover: Prover,
  start: number,
): Promise<Made> {
  const onProgress = stderrProgress();
  const clock = { audit: start };
  const { file: _, also, ...openAs } = job.sculpt;
  const [kernel, sculpt] = await Promise.all([
    loadKernel(),
    openSculpt(sources, { ...openAs, onProgress: timed(onProgress, clock) }),
  ]);
  const opened = performance.now();
  let proofs: Promise<PartProof[]> = Promise.resolve([]);
  const begin = (parts: readonly Part[]) => {
    proofs = prover.prove(parts, onProgress);
    // Looked at once the files are written, unless something fails before.
    proofs.catch(() => {});
  };
  const evaluated = await about(basename(file), () =>
    createEvaluator(onlyHere(kernel), sculpt).evaluate(job, onProgress, begin),
  );
  const timingsMs = {
    read: clock.audit - start,
    audit: opened - clock.audit,
    ...evaluated.evaluation.timingsMs,
  };
  return { ...evaluated, job, sculpt, proofs, onProgress, start, timingsMs };
}

/** Where parts go, and how. */
interface To {
  folder: string;
  format: PartFormat;
  isStrict: boolean;
  /** Files that must not be written over. */
  inputs: readonly string[];
}

/** Writes the parts while they are proved, or in strict mode once they are, and reports. */
async function handOver(made: Made, to: To): Promise<number> {
  const { evaluation, tree, job, sculpt, onProgress } = made;
  const checked = performance.now();
  const judging = made.proofs.then((proofs) => judgeProofs(evaluation.parts, proofs));
  const ofSculpt = stillStanding(sculpt.findings, evaluation);
  const told = async () => [...ofSculpt, ...evaluation.findings, ...(await judging).findings];
  const parts = tree.parts.map(({ plain, part }) => ({ name: plain.name, part }));
  const files = partFiles(
    to.format,
    bareName(job.sculpt.file),
    parts,
    add(sculpt.originMm, evaluation.movedMm),
  );
  const isHeld = to.isStrict && exitCodeOf(await told()) !== 0;
  const writing = performance.now();
  onProgress('writing', 0);
  const names = [...files.map(({ name }) => name), REPORT];
  const set = isHeld ? null : await openFileSet(to.folder, names, to.inputs);
  for (const entry of files) await set?.add(entry);
  const written = performance.now();
  evaluation.findings = await told();
  const { proved } = await judging;
  const done = performance.now();
  const report = reportOf(
    evaluation,
    sculpt.repairs,
    proved.map((proved, i) => ({ file: (files[i] ?? files[0]).name, proved })),
    {
      ...made.timingsMs,
      // What was waited for: parts are proved while others are measured and written.
      prove: writing - checked + done - written,
      write: written - writing,
      total: done - made.start,
    },
  );
  await set?.add({ name: REPORT, chunks: [Buffer.from(`${JSON.stringify(report, null, 2)}\n`)] });
  await set?.commit();
  printJson(report);
  return exitCodeOf(evaluation.findings);
}

/** The format that parts are asked for in, the first where none is named. @throws PegwrightError `usage` */
function readFormat(
  asked: string | boolean | undefined,
  formats: readonly [PartFormat, ...PartFormat[]],
): PartFormat {
  const id = readChoice(
    'files',
    asked,
    formats.map((format) => format.id),
  );
  return formats.find((format) => format.id === id) ?? formats[0];
}

/** Runs what a job asks for; a refusal that names no file is about the job's. */
async function about<T>(file: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (thrown) {
    if (thrown instanceof PegwrightError && !('file' in thrown.facts)) thrown.about = file;
    throw thrown;
  }
}

/** Notes when reading ends and auditing begins. */
const timed =
  (onProgress: OnProgress, clock: { audit: number }): OnProgress =>
  (step, done) => {
    if (step === 'welding' && done === 0) clock.audit = performance.now();
    onProgress(step, done);
  };

async function openJob(path: string): Promise<Job> {
  const file = basename(path);
  const text = await readFile(path, 'utf8').catch((thrown: unknown) => {
    throw new PegwrightError('file-unreadable', { file, trouble: systemTrouble(thrown, 'reading') });
  });
  let json: unknown;
  try {
    // Some editors put a byte-order mark first.
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    throw new PegwrightError('job-unreadable', { file });
  }
  return readJob(file, json);
}

/** The report of the command-line contract. */
function reportOf(
  evaluation: Evaluation,
  repairs: readonly Repair[],
  files: readonly { file: string; proved: boolean | null }[],
  timingsMs: Record<string, number>,
) {
  return {
    parts: evaluation.parts.map(
      ({ name, ofJoint, triangles, volumeMm3, areaMm2, boundsMm, closed, shells, bed }, i) => ({
        name,
        file: files[i].file,
        ...(ofJoint && { joint: { seam: ofJoint.seamId, id: ofJoint.jointId } }),
        triangles,
        volumeMm3,
        areaMm2,
        boundsMm,
        closed,
        shells,
        bed: {
          fits: bed.fits !== 'not',
          turn: bed.turn,
          overMm: bed.overMm,
          searchedToMm: bed.withinMm,
        },
        proved: files[i].proved,
      }),
    ),
    seams: evaluation.seams.map((seam) => ({
      id: seam.id,
      areaMm2: seam.areaMm2,
      outlines: seam.facets.flatMap(printedOutlines),
      way: seam.way,
      pegs: seam.joints.map(({ settled, way, axis, sideGapMm, endGapMm, wallMm, glueMm3, poles }) => ({
        ...settled,
        way,
        axis,
        asked: { sideGapMm: settled.sideGapMm, endGapMm: settled.endGapMm },
        sideGapMm,
        endGapMm,
        wallMm,
        glueMm3,
        ...(poles && { poles }),
      })),
      ...(seam.nest && { nest: seam.nest }),
      ...(seam.touch && { touch: seam.touch }),
      draw: seam.draw,
      oneWay: seam.oneWay,
    })),
    toGet: toGet(evaluation.seams).map(({ kind, count, sizes, joints, isPrintable }) => ({
      kind,
      count,
      ...sizes,
      joints: joints.map(({ seamId, jointId }) => ({ seam: seamId, id: jointId })),
      isPrintable,
    })),
    volume: evaluation.volume,
    movedMm: evaluation.movedMm,
    findings: printedFindings(evaluation.findings),
    repairs,
    timingsMs,
  };
}
