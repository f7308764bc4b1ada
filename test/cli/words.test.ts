import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { systemTrouble } from '../../src/cli/system-trouble.ts';
import { partFileNames } from '../../src/handoff/part-files.ts';
import { block, type CliFolder, jobText, makeCliFolder, seam } from '../support/cli-folder.ts';
import { inEnglish } from '../support/in-english.ts';
import { answerOf } from '../support/run-cli.ts';
import { runCommand } from '../support/run-command.ts';

let folder: CliFolder;
beforeEach(() => {
  folder = makeCliFolder();
  folder.put('block.stl', block());
});
afterEach(() => folder.remove());

const make = (job: string, out = join(folder.path, 'parts')) => runCommand(['make', job, '--out', out]);
/** A block with one triangle turned against the rest and one left out, as a sculptor's export may have it. */
function damaged(): Uint8Array {
  const bytes = block().slice();
  const [from, to] = [84 + 12 + 12, 84 + 12 + 24];
  const corner = bytes.slice(from, from + 12);
  bytes.copyWithin(from, to, to + 12);
  bytes.set(corner, to);
  return bytes;
}

interface Report {
  findings: { code: string; severity: string; message: string }[];
  repairs: { code: string; count: number }[];
}

describe('make', () => {
  it('tells what opening changed, as inspect does', async () => {
    const file = folder.put('damaged.stl', damaged());
    const seen = answerOf<Report>(await runCommand(['inspect', file]));
    expect(seen.repairs.map(({ code }) => code)).toEqual(['turned-coherent']);
    const run = await make(folder.put('job.json', jobText({ sculpt: { file: 'damaged.stl' } })));
    const report = answerOf<Report>(run);
    expect(run.exitCode).toBe(0);
    expect(report.repairs).toEqual(seen.repairs);
    expect(report.findings).toEqual(expect.arrayContaining(seen.findings));
    expect(seen.findings).not.toEqual([]);
    const sound = answerOf<Report>(await make(folder.put('sound.json', jobText())));
    expect(sound.repairs).toEqual([]);
  });

  it('reads a job that begins with a byte-order mark', async () => {
    expect((await make(folder.put('job.json', `\uFEFF${jobText()}`))).exitCode).toBe(0);
  });

  it('says which parts there are where a seam names one that is divided already', async () => {
    const seams = [seam(), seam({ id: 'second', plane: { normal: [0, 0, 1], offsetMm: 20 } })];
    const { complaints } = await make(folder.put('job.json', jobText({ seams })));
    expect(complaints).toEqual([
      'pegwright: job.json: Seam “second” is to divide “sculpt”, which seam “middle” has divided already; name a part that is there then: “middle.front” (top) or “middle.back” (foot).',
    ]);
  });

  it('is never written over what it reads: the sculpt in its own folder, or a job called report.json', async () => {
    const before = readFileSync(join(folder.path, 'block.stl'));
    // Undivided, the part would be called as the sculpt is.
    const whole = await make(folder.put('whole.json', jobText({ seams: [] })), folder.path);
    expect(whole.exitCode).toBe(2);
    expect(whole.complaints).toEqual([
      'pegwright: block.stl: this would be written over block.stl, which the parts are made from; choose another folder.',
    ]);
    expect(readFileSync(join(folder.path, 'block.stl'))).toEqual(before);
    const report = await make(folder.put('report.json', jobText()), folder.path);
    expect(report.exitCode).toBe(2);
    expect(report.complaints[0]).toMatch(
      /^pegwright: report\.json: this would be written over report\.json, /,
    );
    expect(folder.list('.')).toEqual(['block.stl', 'report.json', 'whole.json']);
  });
});

describe('help', () => {
  it('is printed for all verbs or one, and is no failure', async () => {
    for (const args of [
      ['--help'],
      ['-h'],
      ['help'],
      ['make', '--help'],
      ['help', 'section'],
      ['inspect', '-h'],
    ]) {
      const { exitCode, stdout, stderr } = await runCommand(args);
      expect([exitCode, stderr], args.join(' ')).toEqual([0, '']);
      expect(stdout).toContain('Exit 0: done.');
      const verbs = ['inspect FILE', 'section FILE', 'make JOB.json'].filter((verb) => stdout.includes(verb));
      expect(verbs).toHaveLength(args.some((arg) => /^[a-gi-z]/.test(arg)) ? 1 : 3);
    }
  });
});

describe('what the system refuses', () => {
  it('is told in words with what would help, whichever its code and whatever was being done', () => {
    const codes = [
      'ENOENT',
      'EACCES',
      'EROFS',
      'ENOSPC',
      'EFBIG',
      'EEXIST',
      'EISDIR',
      'ENAMETOOLONG',
      'EMFILE',
      'EIO',
    ];
    for (const doing of ['reading', 'writing'] as const) {
      const told = codes.map((code) => systemTrouble(Object.assign(new Error(), { code }), doing));
      const sentences = told.map((trouble) =>
        inEnglish.refusal({ code: 'file-unreadable', facts: { file: 'a.stl', trouble } }),
      );
      for (const sentence of sentences) expect(sentence).toMatch(/^a\.stl: .* \([^E]{8,}\); .*\.$/);
      expect(new Set(sentences).size).toBe(codes.length);
    }
  });
});

describe('names of part files', () => {
  it('are short enough for every file system, in whole letters of any script', () => {
    const long = ['頭'.repeat(80), 'ä'.repeat(80), '👩‍👩‍👧'.repeat(40), 'e\u0301'.repeat(80), 'x'.repeat(80)];
    for (const name of long) {
      const names = partFileNames(name, [name, `${name}b`, name], 'stl');
      for (const file of names) expect(Buffer.byteLength(file), file).toBeLessThanOrEqual(255);
      expect(new Set(names).size).toBe(3);
      expect(names.join()).not.toContain('\uFFFD');
      for (const file of names) expect(file).not.toMatch(/\u200d[-.]/);
    }
    expect(partFileNames('heron', ['head'], 'stl')).toEqual(['heron-head.stl']);
  });
});
