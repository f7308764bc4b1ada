import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { jobText, makeCliFolder, seam } from '../support/cli-folder.ts';
import { lumpySphere } from '../support/figures.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
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
const hook = (name: string) => pathToFileURL(resolve(import.meta.dirname, '../support', name)).href;

describe('make of a large figure', () => {
  it('proves its parts in threads and writes them whole', async () => {
    const record = folder.put('modules.txt', '');
    const run = await runCli(['make', job('job.json'), '--out', join(folder.path, 'parts')], {
      hooks: [hook('record-modules.ts')],
      env: { RECORD_MODULES_IN: record },
    });
    const { parts } = answerOf<Report>(run);
    expect(run.exitCode).toBe(0);
    expect(parts.map(({ proved }) => proved)).toEqual([true, true]);
    expect(folder.list('parts')).toEqual([...parts.map(({ file }) => file), 'report.json'].sort());
    for (const { file, triangles } of parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'parts', file)));
      expect([soup.length / 9, unpairedEdges(soup)]).toEqual([triangles, 0]);
    }
    expect(readFileSync(record, 'utf8')).toContain('/src/worker/node/kernel-thread.ts');
  });

  it('says the same from its bundle', async () => {
    const { parts } = answerOf<Report>(
      await runCli(['make', job('job.json'), '--out', join(folder.path, 'b')]),
    );
    expect(parts.map(({ proved }) => proved)).toEqual([true, true]);
    for (const { file } of parts) {
      expect(readFileSync(join(folder.path, 'b', file))).toEqual(
        readFileSync(join(folder.path, 'parts', file)),
      );
    }
  });

  it('calls no part proved whose thread came to nothing, and writes all the same', async () => {
    const run = await runCli(['make', job('job.json'), '--out', join(folder.path, 'lost')], {
      hooks: [hook('end-threads.ts')],
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
