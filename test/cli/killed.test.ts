import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, watch } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { makeCliFolder } from '../support/cli-folder.ts';
import { lumpySphere } from '../support/figures.ts';
import { sweep } from '../support/sweep.ts';

/** `make`, killed while it runs. */

const launcher = resolve(import.meta.dirname, '../../src/cli/pegwright.mjs');
const folder = makeCliFolder();
afterAll(folder.remove);

type Files = Map<string, string>;

const filesIn = (path: string): Files =>
  new Map(readdirSync(path).map((name) => [name, readFileSync(join(path, name)).toString('base64')]));
/** Times differ from run to run. */
const untimed = (name: string, content: string | undefined) =>
  name === 'report.json' && content !== undefined
    ? Buffer.from(content, 'base64')
        .toString()
        .replace(/"timingsMs": \{[^}]*\}/, '')
    : content;

interface Run {
  job: string;
  out: string;
  /** Kills so many ms after the start, or (since a file first shows) after that. */
  kill?: { after: 'start' | 'file'; ms: number };
}

/** Runs `make` in a process of its own; answers how long it took, ms, and whether it came to its end. */
function run({ job, out, kill }: Run): Promise<{ ms: number; ended: boolean }> {
  mkdirSync(out, { recursive: true });
  return new Promise((done) => {
    const start = performance.now();
    const child = spawn(process.execPath, [launcher, 'make', job, '--out', out], { stdio: 'ignore' });
    let timer: NodeJS.Timeout | undefined;
    const soon = () => {
      timer ??= setTimeout(() => child.kill('SIGKILL'), kill?.ms);
    };
    const watcher = kill?.after === 'file' ? watch(out, soon) : null;
    if (kill?.after === 'start') soon();
    child.on('close', (code) => {
      clearTimeout(timer);
      watcher?.close();
      done({ ms: performance.now() - start, ended: code === 0 });
    });
  });
}

const jobWith = (widthMm: number) => ({
  format: 'pegwright-job',
  version: 1,
  sculpt: { file: 'figure.stl' },
  process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [140, 85, 170] },
  seams: [
    {
      id: 'neck',
      plane: { normal: [0, 0, 1], offsetMm: 1 },
      names: { front: 'head', back: 'body' },
      pegs: [
        { kind: 'taper', at: [0, 0, 1], widthMm, heightMm: 6 },
        { kind: 'taper', at: [9, 2, 1], widthMm: 3 },
      ],
    },
  ],
});

let job = '';
let earlier: Files;
let whole: Files;
let takesMs = 0;
beforeAll(async () => {
  folder.put('figure.stl', writeStlBinary(lumpySphere(4, 30, 5), [0, 0, 0]));
  const first = folder.put('first.json', JSON.stringify(jobWith(6)));
  job = folder.put('job.json', JSON.stringify(jobWith(7)));
  for (const [file, out] of [
    [first, 'earlier'],
    [job, 'whole'],
  ])
    expect((await run({ job: file, out: join(folder.path, out) })).ended).toBe(true);
  takesMs = (await run({ job, out: join(folder.path, 'again') })).ms;
  earlier = filesIn(join(folder.path, 'earlier'));
  whole = filesIn(join(folder.path, 'whole'));
});

/** What a person sees: passing names begin with a point. */
const named = (files: Files): [string, string][] => [...files].filter(([name]) => !name.startsWith('.'));

function expectWhole(out: string, title: string): void {
  const files = filesIn(out);
  for (const [name, content] of named(files)) {
    const known = [earlier, whole].map((set) => untimed(name, set.get(name)));
    expect(known, `${title}: ${name} is whole`).toContain(untimed(name, content));
  }
  const report = files.get('report.json');
  if (report === undefined) return;
  const set =
    untimed('report.json', report) === untimed('report.json', whole.get('report.json')) ? whole : earlier;
  for (const [name] of named(set))
    expect(untimed(name, files.get(name)), `${title}: ${name} is of the report's set`).toBe(
      untimed(name, set.get(name)),
    );
}

describe('make, killed', () => {
  it('leaves only whole files under final names, at moments from seed 301', async () => {
    const random = makeRandom(301);
    const seen = { killed: 0, passing: 0, cleared: 0 };
    const moments = sweep(0, 50, 16);
    for (const i of moments) {
      const title = `moment ${i} of seed 301`;
      const out = join(folder.path, 'out');
      rmSync(out, { recursive: true, force: true });
      if (i % 2 === 0) cpSync(join(folder.path, 'earlier'), out, { recursive: true });
      const kill =
        i % 4 === 3
          ? ({ after: 'start', ms: random() * takesMs } as const)
          : ({ after: 'file', ms: random() * 15 } as const);
      const { ended } = await run({ job, out, kill });
      if (!ended) seen.killed++;
      if ([...filesIn(out).keys()].some((name) => name.startsWith('.pegwright-'))) seen.passing++;
      expectWhole(out, title);
      if (i % 8 !== 0) continue;
      // The next run goes through and clears away what was left.
      expect((await run({ job, out })).ended, title).toBe(true);
      expect([...filesIn(out).keys()].sort(), title).toEqual([...whole.keys()].sort());
      expectWhole(out, title);
      seen.cleared++;
    }
    expect(seen.killed).toBeGreaterThan(moments.length / 2);
    expect(seen.passing).toBeGreaterThan(moments.length / 10);
    expect(seen.cleared).toBe(Math.ceil(moments.length / 8));
  }, 180_000);
});
