import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobText, makeCliFolder, stlOf } from '../support/cli-folder.ts';
import { obj } from '../support/mesh-files.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box } from '../support/simple-solids.ts';
import { readSoup, soupVolume, unpairedEdges } from '../support/stl-bytes.ts';

/** Two boxes that touch in 20 × 16 mm, joined from the files they come in to the parts that are written. */

const folder = makeCliFolder();
afterAll(() => folder.remove());

const STAND = box([-20, -15, -18], [20, 15, 0]);
const POST = box([-10, -8, 0], [10, 8, 30]);
const further = obj(POST).replace(/^f .*/gm, (face) =>
  face.replace(/\d+/g, (n) => `${Number(n) + STAND.vertices.length}`),
);
folder.put('lamp.obj', `o stand\n${obj(STAND)}\no post\n${further}\n`);
folder.put('stand.stl', stlOf(STAND));
folder.put('post.stl', stlOf(POST));

interface Report {
  parts: { name: string; file: string; volumeMm3: number; closed: boolean; proved: boolean }[];
  seams: {
    areaMm2: number;
    pegs: { sideGapMm: { min: number; max: number } }[];
    draw: { free: boolean };
    nest?: { gives: string; rimGapMm: number | null };
  }[];
  volume: { residualMm3: number };
  findings: { code: string; severity: string }[];
}

const made = (name: string, sculpt: object, bodies: [string, string], nest = {}) => {
  const seam = {
    id: 'foot',
    by: { kind: 'contact', bodies, ...nest },
    names: { front: 'post', back: 'stand' },
    joints: [{ id: 'a', kind: 'taper', at: 'auto' }],
  };
  const job = folder.put(`${name}.json`, jobText({ version: 2, sculpt, seams: [seam] }));
  return runCli(['make', job, '--out', join(folder.path, name)]);
};

describe('make joins bodies that touch', () => {
  for (const [name, sculpt, bodies] of [
    ['of one file, by name', { file: 'lamp.obj' }, ['post', 'stand']],
    ['of one file, by number', { file: 'lamp.obj' }, ['2', '1']],
    ['of two files', { file: 'stand.stl', also: ['post.stl'] }, ['2', '1']],
  ] as [string, object, [string, string]][]) {
    it(name, async () => {
      const report = answerOf<Report>(await made(name, sculpt, bodies));
      expect(report.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
      expect(report.parts.map((part) => [part.name, part.closed, part.proved])).toEqual([
        ['post', true, true],
        ['stand', true, true],
      ]);
      const [{ areaMm2, pegs, draw }] = report.seams;
      expect(areaMm2).toBe(320);
      expect(draw.free).toBe(true);
      expect(pegs.length).toBe(1);
      expect(Math.abs(pegs[0].sideGapMm.min - 0.12)).toBeLessThan(0.005);
      expect(Math.abs(report.volume.residualMm3)).toBeLessThan(1e-3);
      for (const part of report.parts) {
        const soup = readSoup(readFileSync(join(folder.path, name, part.file)));
        expect(unpairedEdges(soup)).toBe(0);
        expect(soupVolume(soup) / part.volumeMm3).toBeCloseTo(1, 6);
      }
    });
  }

  it('and proves the parts of two that overlap by no more than counts as touching', async () => {
    folder.put('sunk.stl', stlOf(box([-10, -8, -0.03], [10, 8, 30])));
    const run = await made('sunk', { file: 'stand.stl', also: ['sunk.stl'] }, ['2', '1']);
    const report = answerOf<Report>(run);
    expect(report.parts.map(({ closed, proved }) => [closed, proved])).toEqual([
      [true, true],
      [true, true],
    ]);
    const codes = report.findings.map(({ code }) => code);
    // That they overlap is told once, of the figure.
    expect(codes).toContain('shells-overlap');
    expect(codes).not.toContain('overlap-unproved');
    expect(Math.abs(report.volume.residualMm3)).toBeLessThan(1e-3);
  });

  it('and trims the one that is to give way where they overlap, with a gap and a peg on a flat', async () => {
    folder.put('deep.stl', stlOf(box([-10, -8, -6], [10, 8, 30])));
    const flat = { at: [0, 0, -2], normal: [0, 0, 1] };
    const run = await made('deep', { file: 'stand.stl', also: ['deep.stl'] }, ['2', '1'], {
      gives: '1',
      nestGapMm: 0.2,
      flat,
    });
    const report = answerOf<Report>(run);
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    // What they shared is no one's twice any more.
    expect(report.findings.map(({ code }) => code)).not.toContain('shells-overlap');
    expect(report.parts.map(({ closed, proved }) => [closed, proved])).toEqual([
      [true, true],
      [true, true],
    ]);
    const [{ nest, pegs, areaMm2 }] = report.seams;
    expect(nest).toMatchObject({ gives: 'back', asked: { gapMm: 0.2, rimMm: 1 } });
    expect(nest?.rimGapMm).toBeLessThan(1e-4);
    expect(areaMm2).toBeCloseTo(320, 3);
    expect(Math.abs(pegs[0].sideGapMm.min - 0.12)).toBeLessThan(0.005);
    expect(Math.abs(report.volume.residualMm3)).toBeLessThan(1e-2);
  });

  it('refuses to let a third body give way', async () => {
    const run = await made('third', { file: 'lamp.obj' }, ['post', 'stand'], { gives: 'shade' });
    expect(run.exitCode).toBe(2);
    expect(run.complaints).toEqual([expect.stringContaining('seams.0.by.gives')]);
  });

  it('refuses bodies that do not touch, in one line that names them', async () => {
    folder.put('far.stl', stlOf(box([-10, -8, 4], [10, 8, 30])));
    const run = await made('far', { file: 'stand.stl', also: ['far.stl'] }, ['2', '1']);
    expect(run.exitCode).toBe(2);
    expect(run.complaints).toEqual([expect.stringContaining('do not touch')]);
    expect(folder.list('far')).toEqual([]);
  });

  it('refuses one body joined to itself', async () => {
    const run = await made('self', { file: 'lamp.obj' }, ['post', 'post']);
    expect(run.exitCode).toBe(2);
    expect(run.complaints).toEqual([expect.stringContaining('a seam joins two different bodies')]);
    const byNumber = await made('self', { file: 'lamp.obj' }, ['post', '2']);
    expect(byNumber.exitCode).toBe(2);
  });
});
