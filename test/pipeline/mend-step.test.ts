import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Mend } from '../../src/model/mend.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import type { Step } from '../../src/progress.ts';
import { cutOpen, soupOf } from '../support/damage.ts';
import { icosphere, insideOut, lumpySphere } from '../support/figures.ts';
import { inEnglish } from '../support/in-english.ts';
import { asSource } from '../support/mesh-files.ts';
import { scaled } from '../support/meshes.ts';
import { box, fanned, moved, plainVolume, together } from '../support/simple-solids.ts';
import { type Soup, triangleKeys, writeSoup } from '../support/stl-bytes.ts';

const open = (soup: Soup, mend: Mend[], onProgress: (step: Step) => void = () => {}): Promise<Sculpt> =>
  openSculpt(asSource('figure.stl', writeSoup(soup)), { unit: 'mm', scale: 1, mend, onProgress });

const cube = fanned(box([0, 0, 0], [10, 10, 10]));
const ball = scaled(icosphere(4), 10);

/** The ball open at its top. */
const bowl = (height: number): Mesh => {
  const { positions: p, triangles: t } = ball;
  const kept: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    if ([0, 1, 2].some((k) => p[t[i + k] * 3 + 2] < height)) kept.push(...t.subarray(i, i + 3));
  }
  return { positions: p, triangles: Uint32Array.from(kept) };
};

const codes = ({ repairs }: Sculpt): string[] => repairs.map(({ code }) => code);

describe('changes of shape that were agreed to', () => {
  it('fill a large hole, which is left without', async () => {
    const soup = soupOf(bowl(6));
    expect((await open(soup, [])).solid).toBe(false);
    for (const how of ['flat', 'smooth'] as const) {
      const sculpt = await open(soup, [{ do: 'fill-holes', how }]);
      expect(sculpt.solid).toBe(true);
      expect(codes(sculpt)).toEqual(['holes-filled']);
      const [{ count, volumeChangeMm3 = 0, deviationMm = 0, crossings }] = sculpt.repairs;
      expect([count, crossings]).toEqual([1, 0]);
      // What a rim 8 mm wide and round takes: flat its cone to the middle of the box, smooth the cap as well.
      expect(volumeChangeMm3).toBeGreaterThan(0);
      expect(deviationMm).toBeGreaterThan(2);
      expect(deviationMm).toBeLessThan(10);
      const share = sculpt.volumeMm3 / plainVolume(ball);
      // A cap of height h is πh²(3r − h)/3: the rim is ragged between 4 mm below the top, 10.4 % of the ball, and 3.3 mm.
      if (how === 'flat') {
        expect(share).toBeGreaterThan(0.896);
        expect(share).toBeLessThan(0.927);
      } else expect(Math.abs(share - 1)).toBeLessThan(0.02);
      const kept = new Set(triangleKeys(soupOf(sculpt.mesh)));
      expect(triangleKeys(soup).filter((key) => !kept.has(key))).toEqual([]);
    }
  });

  it('close a wide gap between rims', async () => {
    const cut = cutOpen(soupOf(ball), 2, 0.3, [0, 0, 0.05]);
    expect((await open(cut, [])).solid).toBe(false);
    const sculpt = await open(cut, [{ do: 'weld', toleranceMm: 0.06 }]);
    expect(sculpt.solid).toBe(true);
    expect(codes(sculpt)).toEqual(['rims-joined']);
    expect(sculpt.repairs[0].deviationMm).toBeCloseTo(0.025, 5);
    expect(Math.abs(sculpt.volumeMm3 / plainVolume(ball) - 1)).toBeLessThan(0.025 * (3 / 10));
  });

  it('drop specks, closed and open, and tell their volume', async () => {
    const speck = moved(scaled(cube, 0.02), [30, 0, 0]);
    const flake = {
      positions: Float32Array.of(40, 0, 0, 40.1, 0, 0, 40, 0.1, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    const sculpt = await open(soupOf(together(speck, cube, flake)), [{ do: 'drop-specks', belowMm: 0.5 }]);
    expect(sculpt.solid).toBe(true);
    expect(sculpt.volumeMm3).toBeCloseTo(1000, 6);
    expect(sculpt.repairs).toMatchObject([{ code: 'specks-dropped', count: 2 }]);
    expect(sculpt.repairs[0].deviationMm).toBeCloseTo(0.2 * Math.sqrt(3), 5);
    expect(sculpt.repairs[0].volumeChangeMm3).toBeCloseTo(-0.008, 4);
  });

  it('unite five shells that overlap', async () => {
    const five = [0, 8, 16, 24, 32].map((x, i) => moved(cube, [x, i % 2, (i % 3) / 2]));
    const sculpt = await open(soupOf(together(...five)), [{ do: 'unite' }]);
    expect(sculpt.audit.shellCount).toBe(1);
    // Each step shares 2 mm of length with the one before: 9 mm wide, 10 less half a millimetre or one high.
    const shared = 2 * 9 * (9.5 + 9.5 + 9 + 9.5);
    expect(Math.abs(sculpt.volumeMm3 - (5000 - shared))).toBeLessThan(1e-3);
    expect(sculpt.repairs).toMatchObject([{ code: 'shells-united', count: 4 }]);
    expect(Math.abs((sculpt.repairs[0].volumeChangeMm3 ?? 0) + shared)).toBeLessThan(1e-3);
  });

  it('come in the order they are in, each told', async () => {
    const speck = moved(scaled(cube, 0.02), [30, 0, 0]);
    const soup = soupOf(together(bowl(6), speck, moved(cube, [5, -5, -12])));
    const steps: Step[] = [];
    const sculpt = await open(
      soup,
      [{ do: 'drop-specks', belowMm: 1 }, { do: 'fill-holes', how: 'flat' }, { do: 'unite' }],
      (step) => steps.push(step),
    );
    expect(codes(sculpt)).toEqual(['specks-dropped', 'holes-filled', 'shells-united']);
    expect(sculpt.solid).toBe(true);
    expect(sculpt.audit.shellCount).toBe(1);
    expect([...new Set(steps)]).toEqual(['reading', 'welding', 'auditing', 'mending']);
    for (const repair of sculpt.repairs) expect(inEnglish.repair(repair)).toMatch(/^\d.* mm.*\.$/);
    for (const found of sculpt.findings) expect(inEnglish.finding(found)).toMatch(/\.$/);
    expect(sculpt.findings.map(({ code }) => code)).toEqual(['mended', 'mended', 'mended']);
  });

  it('change nothing where there is nothing to change', async () => {
    const soup = soupOf(lumpySphere(4, 10, 3));
    const all: Mend[] = [
      { do: 'weld', toleranceMm: 0.1 },
      { do: 'fill-holes', how: 'smooth' },
      { do: 'drop-specks', belowMm: 1 },
      { do: 'unite' },
    ];
    const sculpt = await open(soup, all);
    expect(sculpt.repairs).toEqual([]);
    expect(triangleKeys(soupOf(sculpt.mesh))).toEqual(triangleKeys(soup));
  });

  it('keep a hollow figure hollow', async () => {
    const hollow = together(ball, insideOut(scaled(icosphere(3), 7)));
    const sculpt = await open(soupOf(hollow), [{ do: 'unite' }]);
    expect(sculpt.audit.shellCount).toBe(2);
    expect(sculpt.volumeMm3).toBeCloseTo(plainVolume(hollow), 3);
  });

  it('put a new skin around shells that overlap, and say how far it lies from the old', async () => {
    // Two balls of 10 mm, 10 mm apart: union less by a lens of π (4r + d)(2r − d)²/12.
    const soup = soupOf(together(ball, moved(ball, [10, 0, 0])));
    const sculpt = await open(soup, [{ do: 're-skin', cellMm: 0.5 }]);
    expect(sculpt.solid).toBe(true);
    expect(codes(sculpt)).toContain('re-skinned');
    const repair = sculpt.repairs.find(({ code }) => code === 're-skinned');
    expect(repair?.deviationMm).toBeLessThan(0.5);
    const lens = (Math.PI * 50 * 100) / 12;
    const union = 2 * plainVolume(ball) - lens;
    expect(Math.abs(sculpt.volumeMm3 - union)).toBeLessThan(0.01 * union);
    expect(sculpt.audit.shellCount).toBe(1);
  });
});
