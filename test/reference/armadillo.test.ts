import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { admesh, hasAdmesh } from '../support/admesh.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import { type CliRun, runCli } from '../support/run-cli.ts';
import { boxed, distanceTo, samplesOn } from '../support/soup-gap.ts';
import {
  cornerKeys,
  pick,
  pieces,
  readSoup,
  type Soup,
  soupVolume,
  triangleKeys,
  unpairedEdges,
  writeSoup,
} from '../support/stl-bytes.ts';

/**
 * The whole way on a scanned figure of 52,000 triangles at 200 mm: a seam through its middle and two automatic
 * pegs by the command line, then everything judged on the written files by code that shares nothing with the engine.
 */

const SIDE_GAP = 0.12;
const END_GAP = 0.4;
/** A measured gap may be off by this, mm. */
const GAP_SLACK = 0.01;
/** A vertex this near to the seam plane lies in it, mm: some sixty steps of a single at 100 mm. */
const IN_PLANE = 5e-4;

const armadillo = obtainArmadillo();
if ('missing' in armadillo)
  console.warn(`The armadillo cannot be had, its tests are skipped: ${armadillo.missing}`);
const checker = 'off' in armadillo && hasAdmesh();
if (!checker) console.warn('admesh is not here and cannot be installed: the files are checked without it.');

interface Report {
  parts: { name: string; file: string; closed: boolean; triangles: number; volumeMm3: number }[];
  seams: {
    pegs: { draftDeg: number; way: string; sideGapMm: Spread; endGapMm: Spread; wallMm: { min: number } }[];
  }[];
  volume: { sculptMm3: number; pegsMm3: number; socketsMm3: number; residualMm3: number };
  findings: { code: string; severity: string; message: string }[];
}
interface Spread {
  min: number;
  max: number;
}

describe.skipIf('missing' in armadillo)(
  'the armadillo at 200 mm, cut through its middle, with two pegs',
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'pegwright armadillo '));
    afterAll(() => rmSync(folder, { recursive: true, force: true }));

    let run: CliRun;
    let report: Report;
    let original: Soup;
    /** In front of the seam with the sockets, behind it with the pegs. */
    let front: Soup;
    let back: Soup;
    let seamY: number;
    let pegs: Soup[];
    let sockets: Soup[];

    beforeAll(async () => {
      if ('missing' in armadillo) return;
      original = offSoup(armadillo.off, 200);
      writeFileSync(join(folder, 'armadillo.stl'), writeSoup(original));
      let [low, high] = [Infinity, -Infinity];
      for (let i = 1; i < original.length; i += 3) {
        low = Math.min(low, original[i]);
        high = Math.max(high, original[i]);
      }
      seamY = (low + high) / 2;
      const job = {
        format: 'pegwright-job',
        version: 1,
        sculpt: { file: 'armadillo.stl' },
        process: {
          name: 'resin',
          sideGapMm: SIDE_GAP,
          endGapMm: END_GAP,
          minWallMm: 1.2,
          bedMm: [220, 220, 220],
        },
        seams: [
          {
            id: 'waist',
            of: 'sculpt',
            plane: { normal: [0, 1, 0], offsetMm: seamY },
            pegOn: 'back',
            names: { front: 'upper', back: 'lower' },
            pegs: [
              { kind: 'taper', at: 'auto' },
              { kind: 'taper', at: 'auto' },
            ],
          },
        ],
      };
      writeFileSync(join(folder, 'job.json'), JSON.stringify(job));
      run = await runCli(['make', join(folder, 'job.json'), '--out', join(folder, 'parts')]);
      if (run.exitCode !== 0) return;
      report = JSON.parse(run.stdout) as Report;
      const fileOf = (name: string) => {
        const part = report.parts.find((p) => p.name === name);
        return readSoup(readFileSync(join(folder, 'parts', part?.file ?? '')));
      };
      front = fileOf('upper');
      back = fileOf('lower');
      pegs = pieces(jointOf(back));
      sockets = pieces(jointOf(front));
    });

    /** Triangles off the seam plane with no corner of the figure's own: neither skin nor what a crossed triangle leaves. */
    function jointOf(part: Soup): Soup {
      const own = new Set(cornerKeys(original));
      const corners = cornerKeys(part);
      return pick(part, (t) => {
        const inPlane = [1, 4, 7].every((k) => Math.abs(part[t * 9 + k] - seamY) < IN_PLANE);
        return !inPlane && [0, 1, 2].every((k) => !own.has(corners[t * 3 + k]));
      });
    }

    it('is made without a finding of severity error', () => {
      expect(run.complaints).toEqual([]);
      expect(run.exitCode).toBe(0);
      expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(existsSync(join(folder, 'parts', 'report.json'))).toBe(true);
      expect(original.length / 9).toBeGreaterThan(50_000);
    });

    it('gives two files whose every edge is walked once each way', () => {
      expect(report.parts).toHaveLength(2);
      for (const part of [front, back]) expect(unpairedEdges(part)).toBe(0);
      expect(report.parts.map(({ closed }) => closed)).toEqual([true, true]);
    });

    it.runIf(checker)('gives two files in which admesh finds nothing to mend', () => {
      for (const { file, volumeMm3, triangles } of report.parts) {
        const found = admesh(join(folder, 'parts', file));
        expect(found.facets).toBe(triangles);
        expect(found.disconnectedFacets).toBe(0);
        expect(Object.values(found.mended)).toEqual(Object.keys(found.mended).map(() => 0));
        // It sums in single precision.
        expect(Math.abs(found.volume / volumeMm3 - 1)).toBeLessThan(1e-3);
      }
    });

    it('balances: parts = figure + pegs − sockets to 1e-6 of the figure, as the files have them', () => {
      const foot = [0, seamY, 0];
      const sum = (soups: Soup[]) => soups.reduce((s, soup) => s + soupVolume(soup, foot), 0);
      const [pegged, socketed] = [sum(pegs), -sum(sockets)];
      expect(pegs).toHaveLength(2);
      expect(sockets).toHaveLength(2);
      expect(pegged).toBeGreaterThan(0);
      expect(socketed).toBeGreaterThan(pegged);
      const whole = soupVolume(original, foot);
      const residual = soupVolume(front, foot) + soupVolume(back, foot) - (whole + pegged - socketed);
      expect(Math.abs(residual) / whole).toBeLessThanOrEqual(1e-6);
      expect(Math.abs(report.volume.residualMm3) / report.volume.sculptMm3).toBeLessThanOrEqual(1e-6);
      // The report's figures are the files'.
      expect(report.volume.sculptMm3 / whole).toBeCloseTo(1, 6);
      expect(report.volume.pegsMm3 / pegged).toBeCloseTo(1, 5);
      expect(report.volume.socketsMm3 / socketed).toBeCloseTo(1, 5);
    });

    it(`keeps a side gap of ${SIDE_GAP} and an end gap of ${END_GAP}, each to ${GAP_SLACK}, at every sample`, () => {
      expect([pegs.length, sockets.length]).toEqual([2, 2]);
      const walls = sockets.map(boxed);
      const draft = Math.max(...report.seams[0].pegs.map(({ draftDeg }) => draftDeg)) * (Math.PI / 180);
      const gaps = { side: [] as number[], end: [] as number[], rounding: [] as number[] };
      for (const peg of pegs) {
        for (const { point, normal } of samplesOn(peg)) {
          const rise = normal[1];
          // The rounding between two drafted sides leans no more than √2 sin α; what leans more passes to the tip.
          const at = rise < Math.SQRT2 * Math.sin(draft) + 1e-3 ? 'side' : rise > 0.9999 ? 'end' : 'rounding';
          gaps[at].push(Math.min(...walls.map((wall) => distanceTo(wall, point))));
        }
      }
      const spread = (values: number[]) =>
        values.reduce(([low, high], v) => [Math.min(low, v), Math.max(high, v)], [Infinity, -Infinity]);
      const [leastSide, mostSide] = spread(gaps.side);
      expect(leastSide).toBeGreaterThanOrEqual(SIDE_GAP - GAP_SLACK);
      expect(mostSide).toBeLessThanOrEqual(SIDE_GAP + GAP_SLACK);
      const [leastEnd, mostEnd] = spread(gaps.end);
      expect(leastEnd).toBeGreaterThanOrEqual(END_GAP - GAP_SLACK);
      expect(mostEnd).toBeLessThanOrEqual(END_GAP + GAP_SLACK);
      // In between the gap passes from the one to the other.
      const [least, most] = spread(gaps.rounding);
      expect(least).toBeGreaterThanOrEqual(SIDE_GAP - GAP_SLACK);
      expect(most).toBeLessThanOrEqual(END_GAP + GAP_SLACK);
      expect(gaps.side.length).toBeGreaterThan(1000);
      expect(gaps.end.length).toBeGreaterThan(200);
    });

    it('reports the gaps it has', () => {
      for (const { sideGapMm, endGapMm, wallMm } of report.seams[0].pegs) {
        expect(Math.abs(sideGapMm.min - SIDE_GAP)).toBeLessThanOrEqual(GAP_SLACK);
        expect(Math.abs(sideGapMm.max - SIDE_GAP)).toBeLessThanOrEqual(GAP_SLACK);
        expect(Math.abs(endGapMm.min - END_GAP)).toBeLessThanOrEqual(GAP_SLACK);
        expect(Math.abs(endGapMm.max - END_GAP)).toBeLessThanOrEqual(GAP_SLACK);
        expect(wallMm.min).toBeGreaterThanOrEqual(1.2 - 1e-6);
      }
    });

    it('leaves every triangle off the seam plane as it was, bit for bit, on its side', () => {
      const sideKeys = { front: new Set(triangleKeys(front)), back: new Set(triangleKeys(back)) };
      let off = 0;
      const lost = triangleKeys(original).filter((key, t) => {
        const heights = [1, 4, 7].map((k) => original[t * 9 + k] - seamY);
        const side = heights.every((h) => h > 0) ? 'front' : heights.every((h) => h < 0) ? 'back' : null;
        if (side) off++;
        return side && !sideKeys[side].has(key);
      });
      expect(lost).toEqual([]);
      expect(off).toBeGreaterThan(0.95 * (original.length / 9));
      // Nothing came twice: skin, crossed triangles' pieces, face and joints are all there is.
      expect(sideKeys.front.size).toBe(front.length / 9);
      expect(sideKeys.back.size).toBe(back.length / 9);
    });
  },
);
