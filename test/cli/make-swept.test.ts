import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobText, makeCliFolder, stlOf } from '../support/cli-folder.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box } from '../support/simple-solids.ts';
import { readSoup, soupVolume, unpairedEdges } from '../support/stl-bytes.ts';

/** A block divided along lines, from the job to the files. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
folder.put('block.stl', stlOf(box([-20, -15, -12], [20, 15, 12])));

interface Report {
  parts: { name: string; file: string; volumeMm3: number; closed: boolean; proved: boolean }[];
  seams: {
    areaMm2: number;
    pegs: { sideGapMm: { min: number; max: number } }[];
    draw: { free: boolean; axis: number[]; locked?: unknown };
  }[];
  volume: { residualMm3: number };
  findings: { code: string; severity: string }[];
}

/** Seen towards +y, against the sweep, from left to right: the front is above. */
const stair = [
  [-20, 0, -4],
  [-3, 0, -4],
  [3, 0, 4],
  [20, 0, 4],
];
const made = (name: string, by: object, joints: object[]) => {
  const seam = { id: 'step', by, names: { front: 'lid', back: 'foot' }, joints };
  const job = folder.put(
    `${name}.json`,
    jobText({ version: 2, sculpt: { file: 'block.stl' }, seams: [seam] }),
  );
  return runCli(['make', job, '--out', join(folder.path, name)]);
};
const auto = { id: 'a', kind: 'taper', at: 'auto' };

describe('make divides along a line', () => {
  it('into parts that are closed, proved, and as large as they should be', async () => {
    const by = { kind: 'sheet', line: stair, along: [0, -1, 0] };
    const report = answerOf<Report>(await made('stair', by, [auto]));
    expect(report.findings).toEqual([]);
    expect(report.parts.map((part) => [part.name, part.closed, part.proved])).toEqual([
      ['lid', true, true],
      ['foot', true, true],
    ]);
    const [{ areaMm2, pegs, draw }] = report.seams;
    expect(areaMm2).toBeCloseTo(30 * (17 + 10 + 17), 6);
    expect([pegs.length, draw.free]).toEqual([2, true]);
    expect(draw.axis[2]).toBeCloseTo(1, 9);
    expect(Math.abs(report.volume.residualMm3)).toBeLessThan(1e-3);
    for (const { file, volumeMm3 } of report.parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'stair', file)));
      expect(unpairedEdges(soup)).toBe(0);
      expect(Math.abs(soupVolume(soup) - volumeMm3)).toBeLessThan(1e-2);
    }
  });

  it('and tells pegs that lock it, with exit 1', async () => {
    const by = { kind: 'sheet', line: stair, along: [0, -1, 0] };
    const small = { kind: 'taper', widthMm: 4, heightMm: 4, lengthMm: 4 };
    const run = await made('locked', by, [
      { id: 'a', at: [0, 0, 0], ...small },
      { id: 'b', at: [13, 0, 4], ...small },
    ]);
    const report = JSON.parse(run.stdout) as Report;
    expect(run.exitCode).toBe(1);
    expect(report.seams[0].draw.locked).toEqual({ pegs: [0, 1], facets: [] });
    expect(report.findings.map(({ code }) => code)).toContain('draw-locked');
  });

  it('but not along one that crosses itself', async () => {
    const line = [...stair, [-10, 0, -2]];
    const run = await made('folded', { kind: 'sheet', line, along: [0, -1, 0] }, [auto]);
    expect([run.exitCode, run.stdout]).toEqual([2, '']);
    expect(run.stderr).toContain('crosses, touches or turns back on itself');
  });

  it('nor along one of a single point', async () => {
    const run = await made('short', { kind: 'sheet', line: [[0, 0, 0]], along: [0, 0, 1] }, [auto]);
    expect([run.exitCode, run.stdout]).toEqual([2, '']);
    expect(run.stderr).toContain('seams.0.by.line');
  });
});
