import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobText, makeCliFolder, seam, stlOf } from '../support/cli-folder.ts';
import { obj } from '../support/mesh-files.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box, cornersOf, fanned } from '../support/simple-solids.ts';
import { readSoup, soupVolume, unpairedEdges, writeSoup } from '../support/stl-bytes.ts';

/** What `make` and `inspect` tell of figures that are hardly as they were meant, from outside. */

const folder = makeCliFolder();
afterAll(() => folder.remove());

interface Report {
  parts: {
    file: string;
    volumeMm3: number;
    boundsMm: { min: number[]; max: number[] };
    proved: boolean | null;
  }[];
  movedMm: number[];
  findings: { code: string; severity: string; message: string }[];
}

const made = async (job: string, out: string) =>
  answerOf<Report>(await runCli(['make', folder.put(`${out}.json`, job), '--out', join(folder.path, out)]));
const lowest = (soup: Float32Array, axis: number) =>
  Math.min(...soup.filter((_, i) => i % 3 === axis).map((x) => x));

describe('make', () => {
  it('says by how much the parts of a figure far out are moved, and writes them there', async () => {
    folder.put('far.obj', obj(box([200_000.1, 0, 0], [200_020.1, 16, 30])));
    const report = await made(jobText({ sculpt: { file: 'far.obj', unit: 'mm', scale: 1 } }), 'far');
    expect(report.movedMm[0]).toBeLessThan(-199_000);
    expect(report.findings.find(({ code }) => code === 'parts-moved')?.message).toContain('moved by (−200');
    for (const part of report.parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'far', part.file)));
      expect(unpairedEdges(soup)).toBe(0);
      expect(soupVolume(soup) / part.volumeMm3).toBeCloseTo(1, 6);
      for (const axis of [0, 1, 2]) {
        expect(lowest(soup, axis)).toBeCloseTo(part.boundsMm.min[axis] + report.movedMm[axis], 3);
      }
    }
  });

  it('proves no part in which shells overlap, and says so', async () => {
    const shells = [box([0, 0, 0], [20, 16, 30]), box([5, 5, 20], [15, 11, 40])];
    const soup = Float32Array.from(shells.flatMap((shell) => [...cornersOf(fanned(shell))]));
    folder.put('two.stl', writeSoup(soup));
    const job = (plane: object, mend: object[] = []) =>
      jobText({
        sculpt: { file: 'two.stl', unit: 'mm', scale: 1, mend },
        seams: [seam({ plane, pegs: [] })],
      });
    const above = { normal: [0, 0, 1], offsetMm: 14 };
    const report = await made(job(above), 'two');
    expect(report.movedMm).toEqual([0, 0, 0]);
    expect(report.parts.map(({ file, proved }) => [file, proved])).toEqual([
      ['two-top.stl', null],
      ['two-foot.stl', true],
    ]);
    const codes = report.findings.map(({ code }) => code);
    expect(codes.filter((code) => code === 'overlap-unproved')).toHaveLength(1);
    const united = await made(job(above, [{ do: 'unite' }]), 'united');
    expect(united.parts.map(({ proved }) => proved)).toEqual([true, true]);
    expect(united.findings.map(({ code }) => code)).not.toContain('overlap-unproved');
  });

  it('has what opening told of the sculpt in no other words than inspect', async () => {
    folder.put('tiny.stl', stlOf(box([0, 0, 0], [0.3, 0.3, 0.3])));
    const run = await runCli(['inspect', join(folder.path, 'tiny.stl')]);
    expect(run.exitCode).toBe(0);
    expect(answerOf<Report>(run).findings).toMatchObject([
      {
        code: 'size-unlikely',
        severity: 'warning',
        message: expect.stringContaining('0.3 mm long, smaller than'),
      },
    ]);
  });
});
