import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { jobText, makeCliFolder, seam } from '../support/cli-folder.ts';
import { lumpySphere } from '../support/figures.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { runCommand } from '../support/run-command.ts';
import { readSoup, unpairedEdges } from '../support/stl-bytes.ts';

/** A figure large enough to be proved in threads beside the one that makes it: 81,920 triangles. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
folder.put('ball.stl', writeStlBinary(lumpySphere(4, 30, 6, 0.1), [0, 0, 0]));

interface Report {
  parts: { file: string; triangles: number; proved: boolean | null }[];
  findings: { code: string; severity: string }[];
}

const job = (name: string, changes: Record<string, unknown> = {}) =>
  folder.put(name, jobText({ sculpt: { file: 'ball.stl' }, seams: [seam(changes)] }));
const endThreads = pathToFileURL(resolve(import.meta.dirname, '../support/end-threads.mjs')).href;

describe('make of a large figure', () => {
  it('proves its parts in threads and writes them whole', async () => {
    const run = await runCli(['make', job('job.json'), '--out', join(folder.path, 'parts')]);
    const { parts } = answerOf<Report>(run);
    expect(run.exitCode).toBe(0);
    expect(parts.map(({ proved }) => proved)).toEqual([true, true]);
    expect(folder.list('parts')).toEqual([...parts.map(({ file }) => file), 'report.json'].sort());
    for (const { file, triangles } of parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'parts', file)));
      expect([soup.length / 9, unpairedEdges(soup)]).toEqual([triangles, 0]);
    }
  });

  it('makes the same parts from its sources, where this thread proves them', async () => {
    const { stdout } = await runCommand(['make', job('job.json'), '--out', join(folder.path, 'b')]);
    const { parts } = JSON.parse(stdout) as Report;
    expect(parts.map(({ proved }) => proved)).toEqual([true, true]);
    const bytes = (out: string, file: string) => readFileSync(join(folder.path, out, file));
    for (const { file } of parts) expect(bytes('b', file).equals(bytes('parts', file)), file).toBe(true);
  });

  it('calls no part proved whose thread came to nothing, and writes all the same', async () => {
    const run = await runCli(['make', job('job.json'), '--out', join(folder.path, 'lost')], {
      env: { NODE_OPTIONS: `--import=${endThreads}` },
    });
    const { parts } = answerOf<Report>(run);
    expect(run.exitCode).toBe(0);
    expect(parts.map(({ proved }) => proved)).toEqual([null, null]);
    expect(folder.list('lost')).toHaveLength(3);
  });

  it('writes nothing in strict mode where something is wrong', async () => {
    const broken = job('broken.json', { pegs: [{ kind: 'taper', at: [26, 0, 14], widthMm: 6 }] });
    const run = await runCli(['make', broken, '--out', join(folder.path, 'none'), '--strict']);
    const { parts, findings } = answerOf<Report>(run);
    expect(run.exitCode).toBe(1);
    expect(findings.some(({ severity }) => severity === 'error')).toBe(true);
    expect(parts.map(({ proved }) => proved)).toEqual([true, true]);
    expect(folder.list('none')).toEqual([]);
  });
});
