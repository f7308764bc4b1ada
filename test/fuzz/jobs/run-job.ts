import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ManifoldToplevel } from 'manifold-3d';
import { command } from '../../../src/cli/command.ts';
import type { FuzzJob, JobDocument } from './generate.ts';
import type { Fault } from './judge/fault.ts';
import { judge } from './judge/judge.ts';
import type { Report } from './judge/report.ts';
import { untold } from './judge/verdict.ts';

/** How a failure that nobody foresaw is put. */
const UNFORESEEN = 'failed that should not have';

/** How a job ended. Only `failed` must not be. */
export type Ending = 'right' | 'told' | 'refused' | 'false-alarm' | 'failed';

export interface Outcome {
  seed: number;
  scenario: string;
  ending: Ending;
  /** What the judge found and nothing told of; else why it was refused, or which errors were told. */
  details: string[];
  faults: Fault[];
  report: Report | null;
}

/** What `make` did with a job: its exit code, what it printed, and the files it wrote, by name. */
export interface Made {
  exitCode: number;
  stdout: string;
  complaints: string[];
  files: Map<string, Uint8Array>;
}

/** The document in version 1, which knows no seams but planes; null where there are others. */
function asVersion1({ seams, ...job }: JobDocument) {
  const planes = seams.map(({ by, ...seam }) => {
    if (by.kind !== 'plane') return null;
    return { ...seam, plane: { normal: by.normal, offsetMm: by.offsetMm } };
  });
  return planes.includes(null) ? null : { format: 'pegwright-job', version: 1, ...job, seams: planes };
}

const asVersion2 = ({ seams, ...job }: JobDocument) => ({
  format: 'pegwright-job',
  version: 2,
  ...job,
  seams: seams.map(({ pegs, ...seam }) => ({
    ...seam,
    joints: pegs.map((peg, i) => ({ id: `joint ${i + 1}`, ...peg })),
  })),
});

/** Every other job is written in version 1, where it can be. */
const documentFor = ({ job, seed }: FuzzJob) => (seed % 2 === 0 && asVersion1(job)) || asVersion2(job);

/** Runs `make` on a job within this process. */
export async function makeJob(fuzzed: FuzzJob): Promise<Made> {
  const folder = mkdtempSync(join(tmpdir(), 'pegwright-job-'));
  const parts = join(folder, 'parts');
  try {
    writeFileSync(join(folder, 'figure.stl'), fuzzed.stl);
    writeFileSync(join(folder, 'job.json'), JSON.stringify(documentFor(fuzzed)));
    const run = await captured(['make', join(folder, 'job.json'), '--out', parts]);
    const names = existsSync(parts) ? readdirSync(parts) : [];
    return { ...run, files: new Map(names.map((name) => [name, readFileSync(join(parts, name))])) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Judges what was made, apart from how. */
export function outcomeOf(kernel: ManifoldToplevel, fuzzed: FuzzJob, made: Made): Outcome {
  const { seed, scenario } = fuzzed;
  if (made.exitCode === 2) {
    // One line, nothing printed and nothing written.
    const isRefusal = made.complaints.length === 1 && made.stdout === '' && made.files.size === 0;
    const ending = isRefusal && !made.complaints[0].includes(UNFORESEEN) ? 'refused' : 'failed';
    return { seed, scenario, ending, details: made.complaints, faults: [], report: null };
  }
  const report = JSON.parse(made.stdout) as Report;
  const codes = report.findings.flatMap(({ severity, code }) => (severity === 'error' ? [code] : []));
  const faults = judge(kernel, fuzzed, report, made.files);
  const left = untold(faults, report.findings).map(({ kind, detail }) => `${kind}: ${detail}`);
  if (made.exitCode !== (codes.length > 0 ? 1 : 0)) left.push(`exit code ${made.exitCode}`);
  if (left.length > 0) return { seed, scenario, ending: 'failed', details: left, faults, report };
  const ending = codes.length === 0 ? 'right' : faults.length > 0 ? 'told' : 'false-alarm';
  return { seed, scenario, ending, details: [...new Set(codes)], faults, report };
}

export const runJob = async (kernel: ManifoldToplevel, fuzzed: FuzzJob): Promise<Outcome> =>
  outcomeOf(kernel, fuzzed, await makeJob(fuzzed));

/** The command with standard output and error caught. */
async function captured(args: readonly string[]): Promise<Omit<Made, 'files'>> {
  const caught = { stdout: '', stderr: '' };
  const own = { stdout: process.stdout.write, stderr: process.stderr.write };
  for (const stream of ['stdout', 'stderr'] as const) {
    process[stream].write = (text: string | Uint8Array) => {
      caught[stream] += typeof text === 'string' ? text : Buffer.from(text).toString();
      return true;
    };
  }
  try {
    const exitCode = await command(args);
    const complaints = caught.stderr.split('\n').filter((line) => line !== '' && !/^[a-z]+…$/.test(line));
    return { exitCode, stdout: caught.stdout, complaints };
  } finally {
    process.stdout.write = own.stdout;
    process.stderr.write = own.stderr;
  }
}
