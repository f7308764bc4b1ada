import { mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writeSet } from '../../src/cli/write-set.ts';

const folder = () => mkdtempSync(join(tmpdir(), 'pegwright-set-'));
const entry = (name: string, text: string) => ({ name, chunks: [new TextEncoder().encode(text)] });

test('a set that fails half way leaves the earlier files as they were and nothing beside them', async () => {
  const out = folder();
  await writeSet(out, [entry('a.stl', 'old'), entry('report.json', '{}')], []);
  const broken = {
    name: 'report.json',
    chunks: (function* () {
      yield new Uint8Array(1);
      throw Object.assign(new Error(), { code: 'ENOSPC' });
    })(),
  };
  await expect(writeSet(out, [entry('a.stl', 'new'), broken], [])).rejects.toMatchObject({
    code: 'file-unwritable',
    facts: { reason: 'the disk is full' },
  });
  expect(readdirSync(out).sort()).toEqual(['a.stl', 'report.json']);
  expect(readFileSync(join(out, 'a.stl'), 'utf8')).toBe('old');
});

test('a report that cannot take its name leaves no part behind', async () => {
  const out = folder();
  mkdirSync(join(out, 'report.json'));
  const files = [entry('a.stl', 'new'), entry('report.json', '{}')];
  await expect(writeSet(out, files, [])).rejects.toMatchObject({ code: 'file-unwritable' });
  expect(readdirSync(out)).toEqual(['report.json']);
});

test('an input is never written over, by its own name or through a link', async () => {
  const out = folder();
  const input = join(out, 'figure.stl');
  writeFileSync(input, 'mine');
  symlinkSync(input, join(out, 'linked.stl'));
  for (const name of ['figure.stl', 'linked.stl'])
    await expect(writeSet(out, [entry(name, 'new')], [input])).rejects.toMatchObject({ code: 'usage' });
  expect(readFileSync(input, 'utf8')).toBe('mine');
  expect(readdirSync(out).sort()).toEqual(['figure.stl', 'linked.stl']);
});

test('what a run that is no more left half written is taken away', async () => {
  const out = folder();
  writeFileSync(join(out, '.pegwright-999999999-0.part'), 'half');
  await writeSet(out, [entry('report.json', '{}')], []);
  expect(readdirSync(out)).toEqual(['report.json']);
});
