import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { block, jobText, makeCliFolder, openBlock, seam } from '../support/cli-folder.ts';
import { type CliRun, runCli } from '../support/run-cli.ts';
import { runCommand } from '../support/run-command.ts';

/** Bad input and bad usage: exit code 2, one plain line, nothing on standard output and nothing written. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
const file = folder.put('block.stl', block());

/** The one line a refusal is, without the program's name. */
function refusalOf({ exitCode, stdout, complaints, stderr }: CliRun): string {
  expect(stderr).not.toMatch(/\n\s+at /);
  expect(stdout).toBe('');
  expect(complaints).toHaveLength(1);
  expect(stderr.endsWith(`${complaints[0]}\n`)).toBe(true);
  expect(complaints[0]).toMatch(/^pegwright: .{20,300}\.$/);
  expect(exitCode).toBe(2);
  return complaints[0].slice('pegwright: '.length);
}

/** The first bytes of a PNG picture, and some more. */
const picture = () =>
  Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13, ...Array(200).fill(7)]);

const BAD_FILES: [name: string, content: () => Uint8Array | string, says: RegExp][] = [
  ['empty.stl', () => '', /^empty\.stl: the file is empty/],
  ['cut short.stl', () => block().subarray(0, 84 + 50 * 7 + 11), /^cut short\.stl: .*12 triangles.*7/],
  ['picture.stl', picture, /^picture\.stl: .*a PNG picture/],
  ['letter.stl', () => 'Dear captain,\nthe heron has landed.\n', /^letter\.stl: no mesh format/],
  ['broken.obj', () => 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n', /^broken\.obj: .*line 4/],
  ['no faces.off', () => 'OFF\n3 0 0\n0 0 0\n1 0 0\n0 1 0\n', /^no faces\.off: .*no triangles/],
];

describe('a file that cannot be read', () => {
  for (const [name, content, says] of BAD_FILES) {
    for (const verb of ['inspect', 'section', 'make']) {
      it(`is refused by ${verb}: ${name}`, async () => {
        const path = folder.put(name, content());
        const out = `out of ${verb} ${name}`;
        const args = {
          inspect: () => [path],
          section: () => [path, '--normal', '0,0,1', '--offset', '1'],
          make: () => [
            folder.put('bad.json', jobText({ sculpt: { file: name } })),
            '--out',
            join(folder.path, out),
          ],
        }[verb];
        expect(refusalOf(await runCommand([verb, ...(args?.() ?? [])]))).toMatch(says);
        expect(folder.list(out)).toEqual([]);
      });
    }
  }

  it('is refused where there is none, or a folder', async () => {
    expect(refusalOf(await runCommand(['inspect', join(folder.path, 'gone.stl')]))).toMatch(
      /^gone\.stl: .*no such file/,
    );
    mkdirSync(join(folder.path, 'drawer.stl'));
    expect(refusalOf(await runCommand(['inspect', join(folder.path, 'drawer.stl')]))).toMatch(
      /^drawer\.stl: .*it is a folder/,
    );
  });
});

describe('a mesh that is not closed', () => {
  it('is refused by make, which says how open it is and where', async () => {
    folder.put('open.stl', openBlock());
    const job = folder.put('open.json', jobText({ sculpt: { file: 'open.stl' } }));
    const run = await runCommand(['make', job, '--out', join(folder.path, 'open parts')]);
    expect(refusalOf(run)).toMatch(/^open\.stl: .*not closed.*4 open edges.*near \(.*\)/);
    expect(folder.list('open parts')).toEqual([]);
  });

  it('is refused by section', async () => {
    const path = folder.put('open.stl', openBlock());
    const run = await runCommand(['section', path, '--normal', '0,0,1', '--offset', '5']);
    expect(refusalOf(run)).toMatch(/^open\.stl: .*not closed/);
  });
});

const BAD_JOBS: [what: string, text: string, says: RegExp][] = [
  ['is no JSON', '{ "format": ', /^job\.json: .*not JSON/],
  ['has a field nobody knows', jobText({ colour: 'red' }), /^job\.json: .*colour/],
  [
    'has an unknown field in a peg',
    jobText({ seams: [seam({ pegs: [{ kind: 'taper', at: 'auto', widht: 3 }] })] }),
    /^job\.json: .*seams\.0\.pegs\.0.*widht/,
  ],
  ['is of a newer version', jobText({ version: 3 }), /^job\.json: .*version 3/],
  ['is of another format', jobText({ format: 'shopping-list' }), /^job\.json: .*format/],
  [
    'has a gap out of all bounds',
    jobText({ process: { name: 'resin', sideGapMm: -1, endGapMm: 0.4, minWallMm: 1, bedMm: [1, 1, 1] } }),
    /^job\.json: .*process\.sideGapMm/,
  ],
  ['has two seams of one name', jobText({ seams: [seam(), seam()] }), /^job\.json: .*seams/],
  [
    'names a sculpt that is not there',
    jobText({ sculpt: { file: 'missing.stl' } }),
    /^missing\.stl: .*no such file/,
  ],
  [
    'has a seam that misses',
    jobText({ seams: [seam({ plane: { normal: [0, 0, 1], offsetMm: 99 } })] }),
    /^job\.json: .*middle.*does not pass/,
  ],
  [
    'divides a part that no seam makes',
    jobText({ seams: [seam({ of: 'ghost.front' })] }),
    /^job\.json: .*ghost\.front/,
  ],
];

describe('a job that', () => {
  for (const [what, text, says] of BAD_JOBS) {
    it(`${what} is refused`, async () => {
      const run = await runCommand([
        'make',
        folder.put('job.json', text),
        '--out',
        join(folder.path, 'never'),
      ]);
      expect(refusalOf(run)).toMatch(says);
      expect(folder.list('never')).toEqual([]);
    });
  }

  it('is not there is refused', async () => {
    const run = await runCommand([
      'make',
      join(folder.path, 'none.json'),
      '--out',
      join(folder.path, 'never'),
    ]);
    expect(refusalOf(run)).toMatch(/^none\.json: .*no such file/);
  });

  it('cannot be written out is refused', async () => {
    folder.put('taken', 'a file, not a folder');
    const job = folder.put('good.json', jobText());
    const run = await runCommand(['make', job, '--out', join(folder.path, 'taken')]);
    expect(refusalOf(run)).toMatch(/^taken: cannot be written/);
  });
});

const BAD_USAGE: [args: string[], says: RegExp][] = [
  [[], /verb is missing.*inspect.*section.*make/],
  [['carve', file], /“carve” is no verb/],
  [['inspect'], /at least one FILE/],
  [['section', file, file, '--normal', '0,0,1', '--offset', '5'], /exactly one FILE, 2/],
  [['inspect', file, '--colour', 'red'], /--colour/],
  [['inspect', file, '--unit', 'ell'], /“ell” is not known.*inch/],
  [['section', file, '--offset', '1'], /--normal needs three numbers/],
  [['section', file, '--normal', '0,0,0', '--offset', '1'], /--normal needs three numbers/],
  [['section', file, '--normal', '0,1', '--offset', '1'], /--normal needs three numbers/],
  [['section', file, '--normal', '0,0,1'], /--offset needs a number/],
  [['section', file, '--normal', '0,0,1', '--offset', 'deep'], /--offset needs a number/],
  [['make', 'job.json'], /--out needs a folder/],
  [['make', 'job.json', '--out', 'x', '--files', 'gif'], /--files/],
];

describe('a call that', () => {
  for (const [args, says] of BAD_USAGE) {
    const shown = args.map((arg) => (arg === file ? 'FILE' : arg)).join(' ');
    it(`is wrong is refused: “${shown}”`, async () => {
      expect(refusalOf(await runCommand(args))).toMatch(says);
    });
  }
});

describe('a refusal', () => {
  const CALLS: [what: string, args: string[]][] = [
    ['of a file', ['inspect', folder.put('nothing.stl', '')]],
    ['of a job', ['make', folder.put('list.json', '[]'), '--out', join(folder.path, 'never')]],
    ['of a call', ['carve', file]],
  ];
  for (const [what, args] of CALLS) {
    it(`${what} is the same line from a process of its own`, async () => {
      const own = await runCli(args, { cwd: folder.path });
      expect(refusalOf(own)).toBe(refusalOf(await runCommand(args)));
    });
  }
});
