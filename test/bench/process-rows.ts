import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { threePegJob } from './bench-job.ts';
import type { BenchFigure } from './figures.ts';
import { median, type Row, row } from './row.ts';

/** Rows that take processes of their own. */

const root = resolve(import.meta.dirname, '../..');
const at = (file: string) => join(root, file);

interface Run {
  ms: number;
  stdout: string;
  peakMB: number;
}

function run(script: string, args: readonly string[], folder: string): Run {
  const rssFile = join(folder, 'rss');
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', '--import', at('test/bench/rss-at-exit.ts'), at(script), ...args],
    { cwd: root, encoding: 'utf8', env: { ...process.env, RSS_FILE: rssFile }, maxBuffer: 1 << 28 },
  );
  const ms = performance.now() - start;
  if (status !== 0) throw new Error(`${script} ended with ${status}: ${stderr.slice(-400)}`);
  return { ms, stdout, peakMB: Number(readFileSync(rssFile, 'utf8')) / 1024 };
}

function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'pegwright-bench-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const trianglesOf = ({ path }: BenchFigure): number => (statSync(path).size - 84) / 50;

/** The first cut of a process that has cut nothing before. */
export const coldRow = (figure: BenchFigure, runs: number): Row =>
  inFolder((folder) => {
    const told = Array.from({ length: runs }, () =>
      JSON.parse(run('test/bench/cold.ts', [figure.path], folder).stdout),
    );
    return row(
      'first cut in a cold process',
      { name: figure.name, triangles: trianglesOf(figure) },
      median(told.map((t) => t.ours)),
      {
        reference: median(told.map((t) => t.theirs)),
        against: 'kernel split + union + difference + read-out',
        atMost: 0.07,
      },
    );
  });

function makeOnce(figure: BenchFigure, folder: string): Run {
  const job = join(folder, 'job.json');
  writeFileSync(
    job,
    JSON.stringify({ ...threePegJob(), sculpt: { file: figure.path, unit: 'mm', scale: 1 } }),
  );
  return run('src/cli/main.ts', ['make', job, '--out', join(folder, 'parts')], folder);
}

/** The whole command, process start to files on disk, and its memory; against a bare script of the kernel's. */
export const makeRows = (figure: BenchFigure, runs: number): Row[] =>
  inFolder((folder) => {
    const ours: Run[] = [];
    const bare: Run[] = [];
    for (let turn = 0; turn < runs; turn++) {
      ours.push(makeOnce(figure, folder));
      bare.push(run('test/bench/bare-make.ts', [figure.path, folder], folder));
    }
    const who = { name: figure.name, triangles: trianglesOf(figure) };
    const against = 'a bare script that does it by the kernel alone';
    return [
      row('make, start to files, parts proved', who, median(ours.map(({ ms }) => ms)), {
        reference: median(bare.map(({ ms }) => ms)),
        against,
        atMost: 0.5,
      }),
      row('make, greatest resident memory', who, median(ours.map(({ peakMB }) => peakMB)), {
        reference: median(bare.map(({ peakMB }) => peakMB)),
        against,
        unit: 'MB',
      }),
    ];
  });

/** One run of `make` on a figure too big to repeat: that it goes through, how long, and in how much memory. */
export const bigMakeRows = (figure: BenchFigure, limitMB: number | null): Row[] =>
  inFolder((folder) => {
    const { ms, peakMB, stdout } = makeOnce(figure, folder);
    const report = JSON.parse(stdout) as { parts: { closed: boolean }[] };
    const closed = report.parts.length === 2 && report.parts.every((part) => part.closed);
    const who = { name: figure.name, triangles: trianglesOf(figure) };
    return [
      row('make, one run', who, ms, { closed }),
      row('make, greatest resident memory', who, peakMB, {
        unit: 'MB',
        reference: limitMB,
        against: limitMB === null ? '' : 'limit',
        atMost: limitMB === null ? null : 1,
      }),
    ];
  });
