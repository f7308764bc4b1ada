import { copyFileSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobText, makeCliFolder, seam } from '../support/cli-folder.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { readSoup, soupVolume, unpairedEdges } from '../support/stl-bytes.ts';

/** The demo figure cut through its neck: the plane goes through the lantern on its beak too. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
copyFileSync(
  resolve(import.meta.dirname, '../../public/demo/heron.ply.gz'),
  join(folder.path, 'heron.ply.gz'),
);

interface Report {
  parts: {
    name: string;
    file: string;
    volumeMm3: number;
    shells: number;
    closed: boolean;
    proved: boolean;
  }[];
  seams: { areaMm2: number; outlines: unknown[] }[];
  volume: { sculptMm3: number; residualMm3: number };
  findings: { code: string; severity: string }[];
}

const neck = {
  id: 'neck',
  plane: { normal: [0, 0, 1], offsetMm: 130 },
  names: { front: 'head', back: 'body' },
};

const made = (name: string, changes: Record<string, unknown>) => {
  const sculpt = { file: 'heron.ply.gz', unit: 'mm' };
  const job = folder.put(`${name}.json`, jobText({ sculpt, seams: [seam({ ...neck, ...changes })] }));
  return runCli(['make', job, '--out', join(folder.path, name)]);
};

describe('make', () => {
  it('cuts the demo’s neck without its lantern, which stays whole with the head', async () => {
    const report = answerOf<Report>(await made('neck', { through: [[28.3, 0, 130]] }));
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(report.parts.map(({ name, closed, proved }) => [name, closed, proved])).toEqual([
      ['head', true, true],
      ['body', true, true],
    ]);
    // Head, ring and lantern; body and three mussels.
    expect(report.parts.map(({ shells }) => shells)).toEqual([3, 4]);
    expect(report.seams[0].outlines.length).toBeGreaterThan(0);
    expect(Math.abs(report.volume.residualMm3) / report.volume.sculptMm3).toBeLessThan(1e-6);
    for (const part of report.parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'neck', part.file)));
      expect(unpairedEdges(soup)).toBe(0);
      expect(soupVolume(soup) / part.volumeMm3).toBeCloseTo(1, 5);
    }
  });

  it('refuses a seam whose outlines free nothing, in one line with the place of another', async () => {
    // The handle of the lantern: its loop alone.
    const run = await made('wire', {
      plane: { normal: [0, 0, 1], offsetMm: 145 },
      through: [[61.1, 6.1, 145]],
    });
    expect(run.exitCode).toBe(2);
    expect(run.complaints).toHaveLength(1);
    expect(run.complaints[0]).toMatch(
      /Seam “neck” divides nothing: .* which the outline at \(.*145.*\) still joins/,
    );
    expect(folder.list('wire')).toEqual([]);
  });
});
