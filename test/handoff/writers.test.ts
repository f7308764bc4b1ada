import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { make } from '../../src/cli/make.ts';
import { PART_FORMATS, type PartFormat } from '../../src/io/writers.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Job } from '../../src/model/job.ts';
import type { Reply, Request } from '../../src/worker/protocol.ts';
import { createSession } from '../../src/worker/session.ts';
import { block, jobText, makeCliFolder } from '../support/cli-folder.ts';
import { jobOf } from '../support/job.ts';

/** A format made up here: a line for each part, with its triangles and where the origin lies. */
const tally = (scope: PartFormat['scope']): PartFormat => ({
  id: 'tally',
  ending: 'tally.txt',
  mediaType: 'text/x-tally',
  scope,
  *write(parts, originMm) {
    for (const { name, part } of parts) {
      const count = part.patches.reduce((n, { triangles }) => n + triangles.length / 3, 0);
      yield new TextEncoder().encode(`${name} ${count} ${originMm.join(' ')}\n`);
    }
  },
});

const JOB = jobOf([{ offsetMm: 14, pegs: [] }]);
const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

async function exported(format: PartFormat, job: Job, partId: string | null) {
  const session = createSession(onlyHere, format);
  const ask = (request: object) => session.answer({ id: 1, ...request } as Request, () => {});
  const blob = new Blob([block() as Uint8Array<ArrayBuffer>]);
  await ask({ type: 'open', files: [{ name: 'block.stl', blob }], unit: 'mm', scale: 1 });
  const { name, file } = (await ask({ type: 'export', job, partId })) as Reply & { type: 'exported' };
  return { name, type: file.type, bytes: new Uint8Array(await file.arrayBuffer()) };
}

describe('a format added to the table', () => {
  it('is what the page saves: a file for each part, or one for all of them', async () => {
    const each = await exported(tally('part'), JOB, null);
    expect([each.name, each.type]).toEqual(['figure-parts.zip', 'application/zip']);
    const files = Object.entries(unzipSync(each.bytes));
    expect(files.map(([name]) => name)).toEqual([
      'figure-neck-front.tally.txt',
      'figure-neck-back.tally.txt',
    ]);
    expect(text(files[0][1])).toMatch(/^neck front \d+ /);
    const all = await exported(tally('assembly'), JOB, null);
    expect([all.name, all.type]).toEqual(['figure-parts.tally.txt', 'text/x-tally']);
    expect(text(all.bytes)).toBe(files.map(([, bytes]) => text(bytes)).join(''));
    for (const scope of ['part', 'assembly'] as const) {
      const one = await exported(tally(scope), JOB, 'neck.back');
      expect([one.name, one.type]).toEqual(['figure-neck-back.tally.txt', 'text/x-tally']);
      expect(text(one.bytes)).toBe(text(files[1][1]));
    }
  });
});

describe('make', () => {
  afterEach(() => {
    vi.restoreAllMocks();
  });

  const made = async (scope: PartFormat['scope'], asked: string) => {
    const folder = makeCliFolder();
    vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    try {
      folder.put('block.stl', block());
      const args = [folder.put('job.json', jobText()), '--out', join(folder.path, 'out'), '--files', asked];
      await make(args, [PART_FORMATS[0], tally(scope)]);
      const report = JSON.parse(readFileSync(join(folder.path, 'out/report.json'), 'utf8'));
      return { names: folder.list('out'), files: report.parts.map(({ file }: { file: string }) => file) };
    } finally {
      folder.remove();
    }
  };

  it('writes parts in any format of the table, and reports which file each part is in', async () => {
    const each = ['block-top.tally.txt', 'block-foot.tally.txt'];
    expect(await made('part', 'tally')).toEqual({ names: [...each, 'report.json'].sort(), files: each });
    const all = 'block-parts.tally.txt';
    expect(await made('assembly', 'tally')).toEqual({ names: [all, 'report.json'], files: [all, all] });
    expect((await made('part', 'stl')).files).toEqual(['block-top.stl', 'block-foot.stl']);
  });

  it('refuses what is not in it, and lists what is', async () => {
    await expect(made('part', 'obj')).rejects.toMatchObject({
      code: 'usage',
      facts: { fault: { is: 'value-unknown', option: '--files', value: 'obj', known: ['stl', 'tally'] } },
    });
  });
});

describe('the table of formats', () => {
  it('has each once, by name and ending', () => {
    for (const key of ['id', 'ending'] as const)
      expect(new Set(PART_FORMATS.map((format) => format[key])).size).toBe(PART_FORMATS.length);
    for (const { ending, mediaType } of PART_FORMATS)
      expect([ending, mediaType]).toEqual([
        expect.stringMatching(/^[a-z\d.]+$/),
        expect.stringMatching(/^\w+\/[\w.+-]+$/),
      ]);
  });
});
