import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'heron-'));
afterAll(() => rmSync(folder, { recursive: true }));

const write = (...words: string[]) =>
  spawnSync(process.execPath, ['--import', 'tsx', 'src/demo/write-demo.ts', ...words], { encoding: 'utf8' });

test('writes a binary STL of as many facets as its header says', { timeout: 120_000 }, () => {
  const file = join(folder, 'heron.stl');
  expect(write('--triangles', '20000', '--out', file).status).toBe(0);
  const bytes = readFileSync(file);
  const count = bytes.readUInt32LE(80);
  expect(bytes.length).toBe(84 + 50 * count);
  expect(Math.abs(count / 20_000 - 1)).toBeLessThan(0.15);
});

test.each([
  [['--out', 'heron.step']],
  [['--triangles', '100', '--out', 'heron.stl']],
  [['--triangles', 'many', '--out', 'heron.stl']],
  [['--seed', '1.5', '--out', 'heron.stl']],
  [['--wide', '--out', 'heron.stl']],
  [[]],
])('refuses %j with a line on how it is used', (words) => {
  const { status, stderr } = write(
    ...words.map((w) => (w.startsWith('heron') ? join(folder, `bad-${w}`) : w)),
  );
  expect(status).toBe(2);
  expect(stderr).toMatch(/^usage: /);
  expect(existsSync(join(folder, 'bad-heron.stl'))).toBe(false);
});
