import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { build } from 'vite';
import type { Job } from '../../src/model/job.ts';
import type { AskedJoint, Sizes } from '../../src/model/joint.ts';
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

/** A process as people start it: plain Node on plain JavaScript. */
function run(program: readonly string[], folder: string): Run {
  const rssFile = join(folder, 'rss');
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(process.execPath, program, {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, NODE_OPTIONS: `--import=${bundled('rss-at-exit')}`, RSS_FILE: rssFile },
    maxBuffer: 1 << 28,
  });
  const ms = performance.now() - start;
  if (status !== 0) throw new Error(`${program[0]} ended with ${status}: ${stderr.slice(-400)}`);
  return { ms, stdout, peakMB: Number(readFileSync(rssFile, 'utf8')) / 1024 };
}

const bundles = at('dist/bench');
const bundled = (script: string) => join(bundles, `${script}.js`);

/** The bench's own scripts as bundles, so that no loader of TypeScript is in the times; the command's, too. */
export async function bundleScripts(): Promise<void> {
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    ssr: { noExternal: true, external: ['manifold-3d', 'draco3dgltf', 'meshoptimizer'] },
    build: {
      ssr: true,
      outDir: bundles,
      target: 'node20',
      copyPublicDir: false,
      rolldownOptions: {
        input: ['cold', 'bare-make', 'rss-at-exit'].map((name) => at(`test/bench/${name}.ts`)),
      },
    },
  });
  execFileSync(process.execPath, [at('src/cli/bundle.mjs')]);
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

const makeOf = (job: string, folder: string) =>
  run([at('src/cli/pegwright.mjs'), 'make', job, '--out', join(folder, 'parts')], folder);

function jobFile(name: string, figure: BenchFigure, job: Job, folder: string): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify({ ...job, sculpt: { file: figure.path, unit: 'mm', scale: 1 } }));
  return path;
}

interface Made {
  parts: { closed: boolean; proved: boolean | null }[];
  seams: { pegs: (AskedJoint & { asked: Sizes })[] }[];
}

/** Pegs as a report has them, to be asked for: what is measured of them stands where their own gaps would. */
const givenOf = ({ pegs }: Made['seams'][number]): AskedJoint[] =>
  pegs.map(({ asked, ...peg }) => ({ ...peg, ...asked }) as unknown as AskedJoint);

/** What a person meets who opens a figure once: processes that have done nothing before, ours and the kernel's in turn. */
export const coldRows = (figure: BenchFigure, runs: number): Row[] =>
  inFolder((folder) => {
    const job = figure.autoJob();
    const asked = jobFile('auto.json', figure, job, folder);
    const { seams, parts } = JSON.parse(makeOf(asked, folder).stdout) as Made;
    const closed = parts.every((part) => part.closed && part.proved === true);
    const placed = { ...job, seams: job.seams.map((seam, i) => ({ ...seam, joints: givenOf(seams[i]) })) };
    const given = jobFile('placed.json', figure, placed, folder);
    const told: Record<'ours' | 'theirs', { open: number; cut: number }[]> = { ours: [], theirs: [] };
    const whole = { ours: [] as Run[], theirs: [] as Run[] };
    for (let turn = 0; turn < runs; turn++) {
      told.ours.push(JSON.parse(run([bundled('cold'), 'ours', asked], folder).stdout));
      told.theirs.push(JSON.parse(run([bundled('cold'), 'theirs', given], folder).stdout));
      whole.ours.push(makeOf(asked, folder));
      whole.theirs.push(run([bundled('bare-make'), given, folder], folder));
    }
    const who = { name: figure.name, triangles: trianglesOf(figure) };
    const middle = (side: 'ours' | 'theirs', step: 'open' | 'cut') => median(told[side].map((t) => t[step]));
    const made = (side: 'ours' | 'theirs', what: 'ms' | 'peakMB') => median(whole[side].map((r) => r[what]));
    const bare = 'a bare script that does it by the kernel alone';
    return [
      row('cold: open, bytes to ready to cut', who, middle('ours', 'open'), {
        reference: middle('theirs', 'open'),
        against: 'kernel read + merge + construct',
        atMost: 0.3,
      }),
      row('cold: first cut, three pegs placed, both parts', who, middle('ours', 'cut'), {
        reference: middle('theirs', 'cut'),
        against: 'kernel split + union + difference + read-out',
        atMost: 0.1,
        closed,
      }),
      row('cold: make, start to files, parts proved', who, made('ours', 'ms'), {
        reference: made('theirs', 'ms'),
        against: bare,
        atMost: 0.33,
        closed,
      }),
      row('cold: make, greatest resident memory', who, made('ours', 'peakMB'), {
        reference: made('theirs', 'peakMB'),
        against: bare,
        unit: 'MB',
      }),
    ];
  });

/** How long the command line takes to say how it is called. */
export const startRow = (runs: number): Row =>
  inFolder((folder) => {
    const times = Array.from({ length: runs }, () => run([at('src/cli/pegwright.mjs'), '--help'], folder).ms);
    return row('cold: the command line, start to its help', { name: 'none', triangles: 0 }, median(times), {
      atMost: 250,
    });
  });

/** How long `npm start` takes until the page is answered, built before. */
export async function serverRow(runs: number): Promise<Row> {
  execFileSync(process.execPath, [at('app/start.mjs'), '--build-only'], { stdio: 'ignore' });
  const times: number[] = [];
  for (let turn = 0; turn < runs; turn++) times.push(await msToAnswer());
  return row('cold: npm start to a page that is answered', { name: 'none', triangles: 0 }, median(times), {
    atMost: 5000,
  });
}

async function msToAnswer(): Promise<number> {
  const start = performance.now();
  const server = spawn('npm', ['start'], { cwd: root, detached: true, stdio: ['ignore', 'pipe', 'inherit'] });
  try {
    let printed = '';
    for await (const text of server.stdout.setEncoding('utf8')) {
      printed += stripVTControlCharacters(text);
      const [url] = /http:\/\/localhost:\d+\//.exec(printed) ?? [];
      if (!url) continue;
      await (await fetch(url)).text();
      return performance.now() - start;
    }
    throw new Error(`npm start ended: ${printed.slice(-400)}`);
  } finally {
    // npm has the server as a child of its own.
    if (server.pid) process.kill(-server.pid);
  }
}

/** One run of `make` on a figure too big to repeat: that it goes through, how long, and in how much memory. */
export const bigMakeRows = (figure: BenchFigure, limitMB: number | null): Row[] =>
  inFolder((folder) => {
    const job = jobFile('job.json', figure, threePegJob(), folder);
    const { ms, peakMB, stdout } = makeOf(job, folder);
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
