import { linkSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openFileSet } from '../../src/cli/file-set.ts';
import { type CliFolder, makeCliFolder } from '../support/cli-folder.ts';

let folder: CliFolder;
beforeEach(() => {
  folder = makeCliFolder();
});
afterEach(() => folder.remove());

const entry = (name: string, text: string) => ({ name, chunks: [new TextEncoder().encode(text)] });
/** An entry whose bytes end in the system's error. */
const failing = (name: string, code: string) => ({
  name,
  chunks: (function* () {
    yield new Uint8Array(1);
    throw Object.assign(new Error(), { code });
  })(),
});

async function written(
  out: string,
  entries: ReturnType<typeof entry>[],
  inputs: string[] = [],
): Promise<void> {
  const set = await openFileSet(
    out,
    entries.map(({ name }) => name),
    inputs,
  );
  for (const one of entries) await set.add(one);
  await set.commit();
}
const told = (work: Promise<unknown>) =>
  work.then(
    () => 'written',
    ({ code, facts }) => [code, facts],
  );

describe('a set of files', () => {
  it('that fails half way leaves the earlier files as they were and nothing beside them', async () => {
    await written(folder.path, [entry('a.stl', 'old'), entry('report.json', '{}')]);
    const work = written(folder.path, [entry('a.stl', 'new'), failing('report.json', 'ENOSPC') as never]);
    expect(await told(work)).toEqual([
      'file-unwritable',
      { file: 'report.json', trouble: { is: 'disk-full' } },
    ]);
    expect(folder.list('.')).toEqual(['a.stl', 'report.json']);
    expect(readFileSync(join(folder.path, 'a.stl'), 'utf8')).toBe('old');
  });

  it('one of whose names a folder has is not begun', async () => {
    mkdirSync(join(folder.path, 'report.json'));
    const work = written(folder.path, [entry('a.stl', 'new'), entry('report.json', '{}')]);
    expect(await told(work)).toEqual(['file-unwritable', expect.objectContaining({ file: 'report.json' })]);
    expect(folder.list('.')).toEqual(['report.json']);
  });

  it('gives the earlier files back where a name cannot be taken at the end', async () => {
    await written(folder.path, [entry('a.stl', 'old'), entry('b.stl', 'old'), entry('report.json', 'old')]);
    const set = await openFileSet(folder.path, ['a.stl', 'b.stl', 'report.json'], []);
    for (const name of ['a.stl', 'b.stl', 'report.json']) await set.add(entry(name, 'new'));
    // Somebody takes one of the new files away, and puts nothing in its place.
    const [, second] = readdirSync(folder.path)
      .filter((name) => name.startsWith('.pegwright-'))
      .sort();
    rmSync(join(folder.path, second));
    expect(await told(set.commit())).toEqual(['file-unwritable', expect.anything()]);
    expect(folder.list('.')).toEqual(['a.stl', 'b.stl', 'report.json']);
    for (const name of folder.list('.')) expect(readFileSync(join(folder.path, name), 'utf8')).toBe('old');
  });

  it('is never written over what was read, by its own name or through a link of either kind', async () => {
    const input = folder.put('figure.stl', 'mine');
    symlinkSync(input, join(folder.path, 'linked.stl'));
    linkSync(input, join(folder.path, 'twin.stl'));
    for (const name of ['figure.stl', 'linked.stl', 'twin.stl'])
      expect(await told(written(folder.path, [entry(name, 'new')], [input]))).toEqual([
        'file-over-input',
        { file: name, input: 'figure.stl' },
      ]);
    expect(readFileSync(input, 'utf8')).toBe('mine');
    await written(folder.path, [entry('other.stl', 'new')], [input]);
  });

  it('clears away what processes that are no more left, and nothing else', async () => {
    await written(folder.path, [entry('report.json', '{}')]);
    const set = await openFileSet(folder.path, ['a.stl'], []);
    await set.add(entry('a.stl', 'new'));
    const [mine = ''] = readdirSync(folder.path).filter((name) => name.startsWith('.pegwright-'));
    const dead = mine.replace(`-${process.pid}-`, '-999999999-');
    const elsewhere = dead.replace(/^\.pegwright-[a-z0-9]*/i, '.pegwright-elsewhere');
    for (const name of [dead, elsewhere]) writeFileSync(join(folder.path, name), 'half');
    await openFileSet(folder.path, ['b.stl'], []);
    expect(readdirSync(folder.path).sort()).toEqual([mine, elsewhere, 'report.json'].sort());
    await set.commit();
  });

  it('is refused by its reason where no folder can be, and does not look for one for ever', async () => {
    const file = folder.put('a-file', '');
    for (const [out, fault] of [
      [join(file, 'parts'), /^file-for-folder$/],
      ['/proc/pegwright/parts', /^no-such-folder$|^not-allowed$/],
      ['/dev/full', /^file-for-folder$/],
      [join(folder.path, 'x'.repeat(300)), /^name-too-long$/],
    ] as const)
      expect(await told(openFileSet(out, ['a.stl'], []))).toEqual([
        'file-unwritable',
        expect.objectContaining({ trouble: { is: expect.stringMatching(fault) } }),
      ]);
  });
});
