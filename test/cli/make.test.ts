import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { block, jobText, makeCliFolder, seam, stlOf } from '../support/cli-folder.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box } from '../support/simple-solids.ts';
import { readSoup, soupVolume, unpairedEdges } from '../support/stl-bytes.ts';

/** What `make` answers and writes, from outside. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
folder.put('block.stl', block());

interface Report {
  parts: {
    name: string;
    file: string;
    joint?: { seam: string; id: string };
    triangles: number;
    volumeMm3: number;
    closed: boolean;
    shells: number;
    bed: { fits: boolean; turn: number[]; overMm: number; searchedToMm: number };
  }[];
  seams: {
    id: string;
    areaMm2: number;
    pegs: Record<string, unknown>[];
    oneWay: boolean;
    draw: { free: boolean };
  }[];
  volume: Record<'sculptMm3' | 'partsMm3' | 'pegsMm3' | 'socketsMm3' | 'residualMm3', number>;
  toGet: { kind: string; count: number }[];
  findings: { code: string; severity: string; message: string }[];
  timingsMs: Record<string, number>;
}

describe('make', () => {
  it('writes one closed file per part and the report it prints', async () => {
    const job = folder.put('job.json', jobText());
    const run = await runCli(['make', job, '--out', join(folder.path, 'two parts')]);
    expect(run.exitCode).toBe(0);
    const report = answerOf<Report>(run);
    expect(JSON.parse(readFileSync(join(folder.path, 'two parts/report.json'), 'utf8'))).toEqual(report);
    expect(folder.list('two parts')).toEqual(['block-foot.stl', 'block-top.stl', 'report.json']);
    expect(report.parts.map(({ name }) => name).sort()).toEqual(['foot', 'top']);
    for (const part of report.parts) {
      const soup = readSoup(readFileSync(join(folder.path, 'two parts', part.file)));
      expect(part.closed).toBe(true);
      expect(part.shells).toBe(1);
      expect(part.bed).toEqual({ fits: true, turn: [0, 0, 0, 1], overMm: 0, searchedToMm: 0 });
      expect(unpairedEdges(soup)).toBe(0);
      expect(soup.length / 9).toBe(part.triangles);
      expect(soupVolume(soup) / part.volumeMm3).toBeCloseTo(1, 9);
    }
    expect(report.volume.sculptMm3).toBe(9600);
    expect(Math.abs(report.volume.residualMm3)).toBeLessThan(9600e-6);
    expect(report.volume.pegsMm3).toBeGreaterThan(10);
    expect(report.volume.socketsMm3).toBeGreaterThan(report.volume.pegsMm3);
    const [made] = report.seams;
    expect(made.id).toBe('middle');
    expect(made.areaMm2).toBeCloseTo(320, 9);
    expect(made.draw.free).toBe(true);
    for (const key of ['kind', 'at', 'axis', 'sideGapMm', 'endGapMm', 'wallMm', 'glueMm3']) {
      expect(made.pegs[0]).toHaveProperty(key);
    }
    for (const step of ['read', 'audit', 'cut', 'joint', 'check', 'write', 'total']) {
      expect(report.timingsMs[step]).toBeGreaterThanOrEqual(0);
    }
  });

  it('finds the sculpt beside the job, wherever it is called from', async () => {
    folder.put('job.json', jobText());
    const run = await runCli(['make', 'job.json', '--out', 'from here'], { cwd: folder.path });
    expect(run.exitCode).toBe(0);
    expect(folder.list('from here')).toEqual(['block-foot.stl', 'block-top.stl', 'report.json']);
  });

  it('takes unit and scale from the job: half an inch is 12.7 mm', async () => {
    folder.put('unit.stl', stlOf(box([0, 0, 0], [2, 2, 2])));
    const sculpt = { file: 'unit.stl', unit: 'inch', scale: 0.5 };
    const seams = [seam({ plane: { normal: [0, 0, 1], offsetMm: 12.7 } })];
    const job = folder.put('inch job.json', jobText({ sculpt, seams }));
    const report = answerOf<Report>(await runCli(['make', job, '--out', join(folder.path, 'inches')]));
    expect(Math.abs(report.volume.sculptMm3 / 25.4 ** 3 - 1)).toBeLessThan(3 * 2 ** -24);
    expect(Math.abs(report.seams[0].areaMm2 / 25.4 ** 2 - 1)).toBeLessThan(2 * 2 ** -24);
  });

  it('writes the rod of a pin as a part of its own, and lists what is to be got', async () => {
    const joints = [
      { id: 'a', kind: 'pin', at: [5, 8, 14], diameterMm: 3, depthMm: 5 },
      { id: 'b', kind: 'magnet', at: [12, 5, 14], diameterMm: 4, thicknessMm: 2 },
      { id: 'c', kind: 'magnet', at: [12, 11, 14], diameterMm: 4, thicknessMm: 2 },
    ];
    const { pegs: _, ...plain } = seam({}) as Record<string, unknown>;
    const { plane, ...rest } = plain;
    const seams = [{ ...rest, by: { kind: 'plane', ...(plane as object) }, joints }];
    const job = folder.put('loose.json', jobText({ version: 2, seams }));
    const run = await runCli(['make', job, '--out', join(folder.path, 'loose')]);
    expect(run.exitCode).toBe(0);
    const report = answerOf<Report>(run);
    const [rod] = report.parts.filter((part) => part.joint);
    expect(rod).toMatchObject({
      joint: { seam: 'middle', id: 'a' },
      file: 'block-middle-pin-a.stl',
      closed: true,
    });
    expect(folder.list('loose')).toEqual([rod.file, 'block-foot.stl', 'block-top.stl', 'report.json'].sort());
    const soup = readSoup(readFileSync(join(folder.path, 'loose', rod.file)));
    expect(unpairedEdges(soup)).toBe(0);
    const along = [...soup].filter((_, i) => i % 3 === 2);
    expect([Math.min(...along), Math.max(...along)]).toEqual([9, 19]);
    expect(report.toGet).toEqual([
      {
        kind: 'pin',
        count: 1,
        diameterMm: 3,
        lengthMm: 10,
        joints: [{ seam: 'middle', id: 'a' }],
        isPrintable: true,
      },
      {
        kind: 'magnet',
        count: 4,
        diameterMm: 4,
        thicknessMm: 2,
        joints: ['b', 'c'].map((id) => ({ seam: 'middle', id })),
        isPrintable: false,
      },
    ]);
    const poles = report.seams[0].pegs.map((peg) => peg.poles);
    expect(poles[1]).toEqual(poles[2]);
    expect(poles[1]).toHaveLength(2);
    expect(report.findings.filter(({ code }) => code === 'small-magnet')).toHaveLength(2);
  });

  describe('with a finding of severity error', () => {
    // A peg half over the edge of the face.
    const pegs = [{ kind: 'taper', at: [1, 8, 14], widthMm: 6, heightMm: 6, lengthMm: 5 }];
    const text = jobText({ seams: [seam({ pegs })] });

    it('ends with 1 and writes the files all the same', async () => {
      const job = folder.put('off.json', text);
      const run = await runCli(['make', job, '--out', join(folder.path, 'lenient')]);
      expect(run.exitCode).toBe(1);
      const { findings } = answerOf<Report>(run);
      expect(findings.filter(({ severity }) => severity === 'error').map(({ code }) => code)).toContain(
        'peg-off-face',
      );
      expect(folder.list('lenient')).toEqual(['block-foot.stl', 'block-top.stl', 'report.json']);
    });

    it('writes nothing with --strict, and still says why', async () => {
      const job = folder.put('off.json', text);
      const run = await runCli(['make', job, '--out', join(folder.path, 'strict'), '--strict']);
      expect(run.exitCode).toBe(1);
      expect(answerOf<Report>(run).findings.map(({ code }) => code)).toContain('peg-off-face');
      expect(folder.list('strict')).toEqual([]);
    });

    it('says in words why no automatic peg fits', async () => {
      const process = { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 9, bedMm: [140, 85, 170] };
      const job = folder.put('thick.json', jobText({ process }));
      const run = await runCli(['make', job, '--out', join(folder.path, 'thick')]);
      expect(run.exitCode).toBe(1);
      const [found] = answerOf<Report>(run).findings.filter(({ code }) => code === 'no-peg-fits');
      expect(found.message).toMatch(/9\.0 mm of wall/);
    });
  });

  it('with --strict and nothing wrong writes as ever', async () => {
    const job = folder.put('job.json', jobText());
    const run = await runCli(['make', job, '--strict', '--out', join(folder.path, 'strict and good')]);
    expect(run.exitCode).toBe(0);
    expect(folder.list('strict and good')).toHaveLength(3);
  });
});
