import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { block, jobText, makeCliFolder } from '../support/cli-folder.ts';
import { libraryGlb } from '../support/compressed-glb.ts';
import { lumpySphere } from '../support/figures.ts';
import { runCommand } from '../support/run-command.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = makeCliFolder();
afterAll(folder.remove);

/** What the command prints as a process of its own, by the bundle that the package's `bin` names. */
function bundled(...args: string[]): string {
  const { bin } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const launcher = resolve(root, bin.pegwright);
  return execFileSync(process.execPath, [launcher, ...args], {
    cwd: tmpdir(),
    encoding: 'utf8',
    stdio: 'pipe',
  });
}

const untimed = (report: string) => ({ ...JSON.parse(report), timingsMs: null });

describe('the bundled command', () => {
  it('says of files of every decoder what its sources say', async () => {
    const figure = lumpySphere(5, 20, 2);
    for (const packing of ['plain', 'meshopt', 'draco'] as const) {
      const file = folder.put(`${packing}.glb`, await libraryGlb(figure, packing));
      expect(JSON.parse(bundled('inspect', file))).toEqual(
        JSON.parse((await runCommand(['inspect', file])).stdout),
      );
    }
  });

  it('makes the same parts', async () => {
    folder.put('block.stl', block());
    const job = folder.put('job.json', jobText());
    const [there, here] = [join(folder.path, 'there'), join(folder.path, 'here')];
    const report = bundled('make', job, '--out', there);
    const run = await runCommand(['make', job, '--out', here]);
    expect(untimed(report)).toEqual(untimed(run.stdout));
    for (const { file } of JSON.parse(report).parts)
      expect(readFileSync(join(there, file))).toEqual(readFileSync(join(here, file)));
  });
});
