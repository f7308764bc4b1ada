import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { block, jobText, makeCliFolder, openBlock, seam } from '../support/cli-folder.ts';
import { unmarkedIn } from '../support/marked-language.ts';
import { runCommand } from '../support/run-command.ts';

/** What the command line says where a second language is spoken: nothing of it is in the first. */

vi.mock('../../src/lexicon/lexicon.ts', async (load) => {
  const actual = await load<typeof import('../../src/lexicon/lexicon.ts')>();
  const { markedLanguage } = await import('../support/marked-language.ts');
  return { ...actual, lexiconFor: () => actual.lexiconOf(markedLanguage) };
});

const folder = makeCliFolder();
afterAll(() => folder.remove());

const put = (name: string, content: string | Uint8Array) => folder.put(name, content);
const good = put('1.stl', block());
const out = ['--out', join(folder.path, '0')];
const made = (changes: Record<string, unknown>) => ['make', put('2.json', jobText(changes)), ...out];
const at = (pegs: object[]) => seam({ names: { front: '1', back: '2' }, id: '3', pegs });

/** What a person reads of a run: the complaint without the program's name and the file's, or the report's messages. */
async function said(args: string[]): Promise<string[]> {
  const { stdout, complaints } = await runCommand(args);
  const told = complaints.map((line) =>
    line.replace(/^pegwright: /, '').replaceAll(/\d\.(stl|json)|\b(FILE|stl)\b/g, ''),
  );
  if (!stdout.startsWith('{')) return [...told, stdout.replaceAll(/^pegwright /gm, '')];
  const { findings } = JSON.parse(stdout) as { findings: { message: string }[] };
  return [...told, ...findings.map(({ message }) => message)];
}

const CALLS: [what: string, args: () => string[]][] = [
  ['help', () => ['--help']],
  ['no verb', () => []],
  ['an unknown verb', () => ['7']],
  ['no file', () => ['inspect']],
  ['a file that is not there', () => ['inspect', join(folder.path, '9.stl')]],
  ['an empty file', () => ['inspect', put('4.stl', '')]],
  [
    'a picture',
    () => ['inspect', put('5.stl', Uint8Array.from([0x89, 0x50, 0x4e, 0x47, ...Array(99).fill(7)]))],
  ],
  ['a file cut short', () => ['inspect', put('6.stl', block().subarray(0, 400))]],
  ['an open figure', () => ['inspect', put('7.stl', openBlock())]],
  ['no number', () => ['section', good, '--normal', '0,0,1', '--offset', '']],
  ['no direction', () => ['section', good, '--normal', '0', '--offset', '1']],
  ['no folder', () => ['make', put('2.json', jobText())]],
  ['no JSON', () => ['make', put('2.json', '{'), ...out]],
  ['a job of another time', () => made({ version: 99 })],
  ['a job with a field too few', () => made({ process: undefined })],
  ['a job with a number too large', () => made({ sculpt: { file: '1.stl', scale: 1e9 } })],
  [
    'a job over its own sculpt',
    () => ['make', put('2.json', jobText({ sculpt: { file: '1.stl' }, seams: [] })), '--out', folder.path],
  ],
  [
    'findings of many kinds',
    () =>
      made({
        sculpt: { file: '1.stl' },
        seams: [at([{ kind: 'taper', at: [9, 2, 15], widthMm: 8, sideGapMm: 0 }])],
      }),
  ],
  ['a seam without a peg', () => made({ sculpt: { file: '1.stl' }, seams: [at([])] })],
];

describe('the command line in a second language', () => {
  it.each(CALLS)('says nothing in the first of %s', async (_, args) => {
    const lines = await said(args());
    expect(lines.join('')).not.toBe('');
    expect(lines.flatMap(unmarkedIn)).toEqual([]);
  });
});
