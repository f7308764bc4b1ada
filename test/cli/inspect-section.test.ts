import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { block, makeCliFolder, openBlock, stlOf } from '../support/cli-folder.ts';
import { boxFrame } from '../support/figures.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { box } from '../support/simple-solids.ts';

/** What `inspect` and `section` answer, from outside: a process, its exit code and its two streams. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
const file = folder.put('block.stl', block());

interface Inspection {
  format: string;
  unit: string;
  declaredUnit: string | null;
  triangles: number;
  vertices: number;
  shells: number;
  openEdges: number;
  nonManifoldEdges: number;
  windingErrors: number;
  degenerateTriangles: number;
  duplicateTriangles: number;
  boundsMm: { min: number[]; max: number[] };
  volumeMm3: number;
  areaMm2: number;
  solid: boolean;
  findings: { code: string; severity: string; message: string; count?: number; at?: number[] }[];
  repairs: { code: string; count: number }[];
}

interface Section {
  areaMm2: number;
  perimeterMm: number;
  outlines: { areaMm2: number; perimeterMm: number; centroid: number[] }[];
}

describe('inspect', () => {
  it('tells what a sound file holds and ends with 0', async () => {
    const run = await runCli(['inspect', file]);
    expect(run.exitCode).toBe(0);
    expect(answerOf<Inspection>(run)).toEqual({
      format: 'stl',
      unit: 'mm',
      declaredUnit: null,
      triangles: 12,
      vertices: 8,
      shells: 1,
      openEdges: 0,
      nonManifoldEdges: 0,
      windingErrors: 0,
      degenerateTriangles: 0,
      duplicateTriangles: 0,
      boundsMm: { min: [0, 0, 0], max: [20, 16, 30] },
      volumeMm3: 9600,
      areaMm2: 2800,
      solid: true,
      findings: [],
      repairs: [],
    });
  });

  it('tells what is wrong with an open mesh and ends with 1', async () => {
    const run = await runCli(['inspect', folder.put('open.stl', openBlock())]);
    expect(run.exitCode).toBe(1);
    const answer = answerOf<Inspection>(run);
    expect(answer.solid).toBe(false);
    expect(answer.triangles).toBe(10);
    expect(answer.openEdges).toBe(4);
    expect(answer.findings.map(({ code, severity, count }) => [code, severity, count])).toEqual([
      ['open-edges', 'error', 4],
    ]);
  });

  it('measures in millimetres what a file has in inches', async () => {
    const inch = folder.put('inch.stl', stlOf(box([0, 0, 0], [1, 1, 1])));
    const { unit, volumeMm3, boundsMm } = answerOf<Inspection>(
      await runCli(['inspect', inch, '--unit', 'inch']),
    );
    expect(unit).toBe('inch');
    // Singles near 25.4 are 2⁻¹⁹ apart.
    expect(Math.abs(volumeMm3 / 25.4 ** 3 - 1)).toBeLessThan(3 * 2 ** -24);
    for (const high of boundsMm.max) expect(Math.abs(high - 25.4)).toBeLessThan(2 ** -19);
  });

  it('goes by content, whatever the name', async () => {
    const misnamed = folder.put('a figure.obj', block());
    expect(answerOf<Inspection>(await runCli(['inspect', misnamed])).format).toBe('stl');
  });

  it('is what `npm run pegwright` runs', () => {
    const root = resolve(import.meta.dirname, '../..');
    const { status, stdout } = spawnSync('npm', ['run', '--silent', 'pegwright', '--', 'inspect', file], {
      cwd: root,
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    expect((JSON.parse(stdout) as Inspection).triangles).toBe(12);
  });
});

describe('section', () => {
  it('answers area, perimeter and outlines in file coordinates', async () => {
    const run = await runCli(['section', file, '--normal', '0,0,1', '--offset', '7.5']);
    expect(run.exitCode).toBe(0);
    const { areaMm2, perimeterMm, outlines } = answerOf<Section>(run);
    expect(areaMm2).toBeCloseTo(320, 10);
    expect(perimeterMm).toBeCloseTo(72, 10);
    expect(outlines).toHaveLength(1);
    expect(outlines[0].centroid.map((v) => Math.round(v * 1e9) / 1e9)).toEqual([10, 8, 7.5]);
  });

  it('counts a hole as negative', async () => {
    const frame = folder.put('frame.stl', writeStlBinary(boxFrame(40, 16, 14), [0, 0, 0]));
    const run = await runCli(['section', frame, '--normal', '0,0,1', '--offset', '3']);
    const { areaMm2, outlines } = answerOf<Section>(run);
    expect(outlines.map((outline) => outline.areaMm2).sort((a, b) => a - b)).toEqual([-256, 1600]);
    expect(areaMm2).toBe(1344);
  });

  for (const [normal, offset] of [
    [
      ['--normal', '0,0,1'],
      ['--offset', '-3'],
    ],
    [['--normal', '0,0,1'], ['--offset=-3']],
    [
      ['--normal', '-0,-0,-1'],
      ['--offset', '3'],
    ],
    [
      ['--normal', '0,0,2'],
      ['--offset', '-.3e1'],
    ],
  ]) {
    it(`takes negative numbers: ${[...normal, ...offset].join(' ')}`, async () => {
      const low = folder.put('low.stl', stlOf(box([0, 0, -10], [4, 4, -1])));
      const { areaMm2, outlines } = answerOf<Section>(await runCli(['section', low, ...normal, ...offset]));
      expect(areaMm2).toBeCloseTo(16, 10);
      expect(outlines[0].centroid[2]).toBeCloseTo(-3, 10);
    });
  }

  it('takes the unit, and answers nothing where the plane misses', async () => {
    const inch = folder.put('inch section.stl', stlOf(box([0, 0, 0], [1, 1, 1])));
    const inside = ['section', inch, '--unit', 'inch', '--normal', '1,0,0', '--offset', '20'];
    expect(answerOf<Section>(await runCli(inside)).areaMm2).toBeCloseTo(645.16, 3);
    const beside = answerOf<Section>(await runCli([...inside.slice(0, -1), '30']));
    expect(beside).toEqual({ areaMm2: 0, perimeterMm: 0, outlines: [] });
  });
});
