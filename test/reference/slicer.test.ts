import bunny from 'bunny';
import { afterAll, describe, expect, it } from 'vitest';
import { makeDemoFigure } from '../../src/demo/demo-figure.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import { makeCliFolder } from '../support/cli-folder.ts';
import { answerOf } from '../support/run-cli.ts';
import { runCommand } from '../support/run-command.ts';
import { box, cornersOf, fanned, torus } from '../support/simple-solids.ts';
import { measuresOf, sectionOf } from '../support/slicer.ts';
import { writeSoup } from '../support/stl-bytes.ts';

/**
 * `inspect` and `section` against plain sums in double precision on the file's own coordinates, which share nothing
 * with the engine (divergence theorem and Green's theorem; derived).
 */

const folder = makeCliFolder();
afterAll(() => folder.remove());

const armadillo = obtainArmadillo();
if ('missing' in armadillo)
  console.warn(`The armadillo cannot be had, its tests are skipped: ${armadillo.missing}`);

const soupOf = (mesh: { positions: Float32Array; triangles: Uint32Array }) =>
  Float32Array.from(cornersOf(mesh));

/** The Stanford bunny (npm `bunny`), ten times its size and off its origin. */
const bunnySoup = () =>
  Float32Array.from(bunny.cells.flat().flatMap((v) => bunny.positions[v].map((x) => x * 10 + 300)));

const FIGURES: [name: string, soup: () => Float32Array][] = [
  ['bunny', bunnySoup],
  ['heron', () => soupOf(makeDemoFigure(20_000))],
  ...('off' in armadillo
    ? [['armadillo', () => offSoup(armadillo.off, 200)] as [string, () => Float32Array]]
    : []),
];

interface Section {
  areaMm2: number;
  perimeterMm: number;
}

describe.each(FIGURES)('the %s', (name, make) => {
  const soup = make();
  const file = folder.put(`${name}.stl`, writeSoup(soup));
  const bounds = [0, 1, 2].map((k) => {
    let [low, high] = [Infinity, -Infinity];
    for (let i = k; i < soup.length; i += 3) {
      low = Math.min(low, soup[i]);
      high = Math.max(high, soup[i]);
    }
    return [low, high];
  });

  it('has the volume and area of its file to 1e-6', async () => {
    const { volumeMm3, areaMm2, solid } = answerOf<{ volumeMm3: number; areaMm2: number; solid: boolean }>(
      await runCommand(['inspect', file]),
    );
    const { volume, area } = measuresOf(soup);
    expect(solid).toBe(true);
    expect(Math.abs(volumeMm3 / volume - 1)).toBeLessThan(1e-6);
    expect(Math.abs(areaMm2 / area - 1)).toBeLessThan(1e-6);
  });

  it('has the sections of its file to 1e-5, twelve planes from seed 71', async () => {
    const random = makeRandom(71);
    for (let i = 0; i < 12; i++) {
      const raw = [random() - 0.5, random() - 0.5, random() - 0.5];
      const n = raw.map((v) => v / Math.hypot(...raw)) as unknown as [number, number, number];
      const through = bounds.map(([low, high]) => low + (high - low) * (0.3 + 0.4 * random()));
      const offset = n[0] * through[0] + n[1] * through[1] + n[2] * through[2];
      const run = await runCommand(['section', file, '--normal', n.join(','), '--offset', String(offset)]);
      const { areaMm2, perimeterMm } = answerOf<Section>(run);
      const { area, perimeter } = sectionOf(soup, n, offset);
      expect(area).toBeGreaterThan(0);
      expect(Math.abs(areaMm2 / area - 1)).toBeLessThan(1e-5);
      expect(Math.abs(perimeterMm / perimeter - 1)).toBeLessThan(1e-5);
    }
  });
});

describe('the slicer itself', () => {
  it('finds the hexagon of a cube, 1.2990381 a² (elementary geometry; derived), and what is known of a torus', () => {
    const cube = soupOf(fanned(box([0, 0, 0], [2, 2, 2])));
    const third = 1 / Math.sqrt(3);
    const hexagon = sectionOf(cube, [third, third, third], 3 * third);
    expect(hexagon.area).toBeCloseTo(1.2990381 * 4, 5);
    expect(hexagon.perimeter).toBeCloseTo(6 * Math.SQRT2, 12);
    expect(measuresOf(cube).volume).toBeCloseTo(8, 12);
    expect(measuresOf(cube).area).toBeCloseTo(24, 12);
    // Two rings' worth of a facetted circle each: 2 · n/2 · r² sin(2π/n) of area.
    const ring = sectionOf(soupOf(torus(10, 2, 64, 32)), [1, 0, 0], 0.0001);
    expect(ring.area / (2 * 16 * 4 * Math.sin(Math.PI / 16))).toBeCloseTo(1, 4);
  });
});
