import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobText, makeCliFolder, openBlock, seam, stlOf } from '../support/cli-folder.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box } from '../support/simple-solids.ts';

/** What a job says of mending and turning its sculpt, on the way from the command line to the parts. */

const folder = makeCliFolder();
afterAll(() => folder.remove());

interface Report {
  parts: { name: string; volumeMm3: number; closed: boolean; boundsMm: { min: number[]; max: number[] } }[];
  seams: { areaMm2: number }[];
  findings: { code: string; severity: string; message: string }[];
}

const make = (name: string, sculpt: Record<string, unknown>, plane: Record<string, unknown>) =>
  runCli([
    'make',
    folder.put(`${name}.json`, jobText({ sculpt, seams: [seam({ plane, pegs: [] })] })),
    '--out',
    join(folder.path, name),
  ]);

describe('make', () => {
  it('fills the open side of a block as the job asks, and refuses it where it does not', async () => {
    folder.put('open.stl', openBlock());
    const plane = { normal: [0, 0, 1], offsetMm: 14 };
    const refused = await make('refused', { file: 'open.stl' }, plane);
    expect(refused.exitCode).toBe(2);
    expect(refused.complaints).toHaveLength(1);
    const mend = [{ do: 'fill-holes', how: 'flat' }];
    const { parts, seams } = answerOf<Report>(await make('filled', { file: 'open.stl', mend }, plane));
    expect(parts.map(({ closed }) => closed)).toEqual([true, true]);
    expect(parts.reduce((sum, { volumeMm3 }) => sum + volumeMm3, 0)).toBeCloseTo(9600, 6);
    expect(seams[0].areaMm2).toBeCloseTo(320, 6);
  });

  it('turns a lying block upright, seams in what comes of it', async () => {
    folder.put('lying.stl', stlOf(box([0, 0, 0], [20, 16, 30])));
    // A quarter about x puts y to z, and z to −y.
    const turn = [Math.SQRT1_2, 0, 0, Math.SQRT1_2];
    const plane = { normal: [0, 0, 1], offsetMm: 4 };
    const { parts, seams } = answerOf<Report>(await make('turned', { file: 'lying.stl', turn }, plane));
    expect(seams[0].areaMm2).toBeCloseTo(600, 4);
    const foot = parts.find(({ name }) => name === 'foot');
    for (const [k, low] of [0, -30, 0].entries()) expect(foot?.boundsMm.min[k]).toBeCloseTo(low, 4);
    for (const [k, high] of [20, 0, 4].entries()) expect(foot?.boundsMm.max[k]).toBeCloseTo(high, 4);
  });
});
