import bunny from 'bunny';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildHeron } from '../../src/demo/heron.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import {
  areaOf,
  cutOpen,
  diagonalOf,
  doubled,
  flipped,
  insideOut,
  jittered,
  joined,
  removed,
  someOf,
  soupOf,
} from '../support/damage.ts';
import { asSource } from '../support/mesh-files.ts';
import { type Soup, soupVolume, triangleKeys, unpairedEdges, writeSoup } from '../support/stl-bytes.ts';

/**
 * Sound figures, harmed in known ways and opened again. What comes back is judged on loose triangles by code that
 * shares nothing with the engine: every edge walked once each way, the volume that of the figure before, and the
 * triangles that were not harmed there to the bit. All three figures are closed themselves, which is checked first.
 */

const armadillo = obtainArmadillo();
if ('missing' in armadillo)
  console.warn(`The armadillo cannot be had, its tests are skipped: ${armadillo.missing}`);

const FIGURES: [name: string, make: () => Soup][] = [
  [
    'bunny',
    () =>
      soupOf({
        positions: Float32Array.from(bunny.positions.flat()),
        triangles: Uint32Array.from(bunny.cells.flat()),
      }),
  ],
  ['armadillo', () => ('off' in armadillo ? offSoup(armadillo.off, 200) : new Float32Array(0))],
  ['harbour heron', () => soupOf(buildHeron({ triangles: 40_000 }))],
];

const open = (soup: Soup): Promise<Sculpt> =>
  openSculpt(asSource('figure.stl', writeSoup(soup)), { unit: 'mm', scale: 1 });

/** Relative difference of volumes, summed about one point, and that the surface is closed and told to be. */
function expectClosed(sculpt: Sculpt, sound: Soup, slack: number): void {
  const mended = soupOf(sculpt.mesh);
  expect(sculpt.solid).toBe(true);
  expect(unpairedEdges(mended)).toBe(0);
  const about = [...sound.subarray(0, 3)];
  expect(Math.abs(soupVolume(mended, about) / soupVolume(sound, about) - 1)).toBeLessThanOrEqual(slack);
}

/** How many of the triangles are gone. */
function lostFrom(sound: readonly string[], sculpt: Sculpt): number {
  const kept = new Set(triangleKeys(soupOf(sculpt.mesh)));
  return sound.filter((key) => !kept.has(key)).length;
}

for (const [name, make] of FIGURES) {
  describe.skipIf(name === 'armadillo' && 'missing' in armadillo)(`the ${name}`, () => {
    let sound: Soup;
    let keys: string[];
    let shells: number;
    beforeAll(async () => {
      sound = make();
      keys = triangleKeys(sound);
      const sculpt = await open(sound);
      shells = sculpt.audit.shellCount;
      expect(unpairedEdges(sound)).toBe(0);
      expect(sculpt.repairs).toEqual([]);
    });

    it('with 50 triangles flipped, seed 1', async () => {
      const sculpt = await open(flipped(sound, someOf(50, sound.length / 9, 1)));
      expect(sculpt.read.windingErrors).toBeGreaterThan(100);
      expectClosed(sculpt, sound, 1e-6);
      expect(lostFrom(keys, sculpt)).toBe(0);
      expect(sculpt.repairs).toEqual([{ code: 'turned-coherent', count: 50 }]);
      expect(sculpt.findings.map(({ code }) => code)).toEqual(['mended']);
    });

    it('with 40 triangles removed, seed 2', async () => {
      const gone = someOf(40, sound.length / 9, 2);
      const sculpt = await open(removed(sound, gone));
      expect(sculpt.read.openEdges).toBeGreaterThan(100);
      expectClosed(sculpt, sound, 1e-4);
      expect(sculpt.mesh.triangles.length * 3).toBe(sound.length);
      expect(
        lostFrom(
          keys.filter((_, t) => !gone.has(t)),
          sculpt,
        ),
      ).toBe(0);
      expect(sculpt.repairs.map(({ code }) => code)).toEqual(['holes-filled']);
      expect(sculpt.repairs[0].count).toBeGreaterThan(35);
      expect(sculpt.repairs[0].crossings).toBe(0);
    });

    it('with 100 triangles doubled, seed 3', async () => {
      const sculpt = await open(doubled(sound, someOf(100, sound.length / 9, 3)));
      expect(sculpt.read.duplicateTriangles).toBe(100);
      expectClosed(sculpt, sound, 1e-6);
      expect(lostFrom(keys, sculpt)).toBe(0);
      expect(sculpt.repairs).toEqual([{ code: 'duplicates-dropped', count: 100 }]);
    });

    it('with every corner of every triangle moved by itself, 1e-5 of the size along each axis, seed 4', async () => {
      const far = diagonalOf(sound) * 1e-5;
      const sculpt = await open(jittered(sound, far, 4));
      // A surface that moves by no more than √3 far sweeps no more than its area times that (to the first order).
      expectClosed(sculpt, sound, (1.01 * Math.sqrt(3) * far * areaOf(sound)) / soupVolume(sound));
      expect(sculpt.mesh.triangles.length * 3).toBe(sound.length);
      expect(sculpt.audit.shellCount).toBe(shells);
      expect(sculpt.repairs.map(({ code }) => code)).toEqual(['rims-joined']);
      const { deviationMm = 0 } = sculpt.repairs[0];
      expect(deviationMm).toBeGreaterThan(0);
      expect(deviationMm).toBeLessThanOrEqual(2 * Math.sqrt(3) * far * 1.01);
    });

    it('turned inside out', async () => {
      const sculpt = await open(insideOut(sound));
      expectClosed(sculpt, sound, 1e-6);
      expect(lostFrom(keys, sculpt)).toBe(0);
      expect(sculpt.repairs).toEqual([{ code: 'turned-outward', count: sound.length / 9 }]);
    });

    it('laid back to back on itself', async () => {
      const sculpt = await open(joined(insideOut(sound), sound));
      expectClosed(sculpt, sound, 1e-6);
      expect(lostFrom(keys, sculpt)).toBe(0);
      expect(sculpt.repairs.map(({ code, count }) => [code, count])).toEqual([
        ['doubled-skin-dropped', sound.length / 9],
        ['turned-outward', sound.length / 9],
      ]);
    });

    it('cut along a loop of edges, both rims in their place', async () => {
      // Loose triangles at equal places are what a file of them always holds: nothing is to be mended.
      const sculpt = await open(cutOpen(sound, 1, middle(sound), [0, 0, 0]));
      expectClosed(sculpt, sound, 1e-6);
      expect(sculpt.repairs).toEqual([]);
    });

    it('cut along a loop of edges, one rim moved by 1e-5 of the size', async () => {
      const far = diagonalOf(sound) * 1e-5;
      const cut = cutOpen(sound, 1, middle(sound), [0, far, 0]);
      expect(unpairedEdges(cut)).toBeGreaterThan(20);
      const sculpt = await open(cut);
      // Triangles at the loop move by half of it; the figure's area is more than theirs.
      expectClosed(sculpt, sound, (far * areaOf(sound)) / soupVolume(sound));
      expect(sculpt.repairs.map(({ code }) => code)).toEqual(['rims-joined']);
      // Where a corner stays on its rim nothing moves.
      const untouched = new Set(triangleKeys(cut));
      const same = triangleKeys(soupOf(sculpt.mesh)).filter((key) => untouched.has(key)).length;
      expect(same).toBeGreaterThan(0.8 * (sound.length / 9));
    });
  });
}

function middle(soup: Soup): number {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 1; i < soup.length; i += 3) {
    low = Math.min(low, soup[i]);
    high = Math.max(high, soup[i]);
  }
  return (low + high) / 2;
}
