import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PegwrightError, toErrorRecord } from '../../../src/errors.ts';
import { estimateReSkin, suggestCellMm } from '../../../src/mend/skin/estimate-re-skin.ts';
import { type ReSkinned, reSkin } from '../../../src/mend/skin/re-skin.ts';
import { measureMesh } from '../../../src/mesh/measure.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { auditMesh, isClosed } from '../../../src/mesh/topology/audit.ts';
import { LIMITS } from '../../../src/model/limits.ts';
import {
  icosphere,
  insideOut,
  lumpySphere,
  nestedBalls,
  overlapping,
  turned,
} from '../../support/figures.ts';
import { inEnglish } from '../../support/in-english.ts';
import { eulerCharacteristic, inscribedRadius, scaled } from '../../support/meshes.ts';
import { badVertices, selfCrossings } from '../../support/self-crossings.ts';
import { box, fanned, moved, plainVolume, together, torus } from '../../support/simple-solids.ts';
import { trials } from '../../support/sweep.ts';

const ball = (radius: number, levels = 4): Mesh => scaled(icosphere(levels), radius);
const cube = (size: number): Mesh => fanned(box([0, 0, 0], [size, size, size]));
const without = ({ positions, triangles }: Mesh, drop: (t: number) => boolean): Mesh => ({
  positions,
  triangles: triangles.filter((_, i) => !drop(Math.floor(i / 3))),
});
/** Picks every nineteenth triangle or so, here and there: about 5 %. */
const few = (t: number): boolean => (t * 7919) % 19 === 0;

/** Closed, edge- and vertex-manifold, rightly wound, nothing degenerate or doubled. */
function expectSound(mesh: Mesh): void {
  const audit = auditMesh(mesh);
  expect(isClosed(audit)).toBe(true);
  expect(audit.degenerateTriangles).toBe(0);
  expect(audit.duplicateTriangles).toBe(0);
  expect(badVertices(mesh)).toEqual([]);
}

const skinned = (mesh: Mesh, cellMm: number): ReSkinned => {
  const result = reSkin(mesh, { cellMm });
  expectSound(result.mesh);
  return result;
};

/**
 * What a volume may be off by: the new skin lies within `maxMm` of the old one, so that the two volumes differ by no
 * more than a coat of that thickness on the old area; twice, for the coat's own curvature.
 */
const coat = (mesh: Mesh, maxMm: number): number => 2 * measureMesh(mesh).areaMm2 * maxMm;

describe('a new skin of a sound figure', () => {
  // Vertices lie on the old skin, or within a margin of 0.02 cells; the two ends of an edge lie in one cell or in neighbours,
  // at most √6 cells apart, and a chord e of a ball lies at most e²/8R deep: 0.75 c²/R.
  it.each([2, 1, 0.5])('lies on a ball of radius 10 as near as chords can, cells of %d mm', (cell) => {
    const old = ball(10, 5);
    const { mesh, deviation, volumeChangeMm3 } = skinned(old, cell);
    const bound = (0.75 * cell * cell) / 10 + 0.02 * cell + 10 - inscribedRadius(old);
    expect(deviation.maxMm).toBeLessThan(bound);
    expect(deviation.meanMm).toBeLessThan(deviation.maxMm);
    expect(Math.abs(volumeChangeMm3)).toBeLessThan(4 * Math.PI * 100 * bound);
    expect(volumeChangeMm3).toBeCloseTo(plainVolume(mesh) - plainVolume(old), 2);
    expect(eulerCharacteristic(mesh)).toBe(2);
  });

  it('comes nearer as cells shrink: with half the cell at most a third of the volume is lost', () => {
    const old = lumpySphere(8, 10, 5);
    const [coarse, fine] = [1, 0.5].map((cell) => Math.abs(skinned(old, cell).volumeChangeMm3));
    expect(fine).toBeLessThan(coarse / 3);
  });

  it.each([
    [0, 0, 0],
    [0.3, 0.4, 0.2],
  ])('keeps the edges and corners of a cube, turned by %d, %d, %d', (a, b, c) => {
    const old = turned(cube(10), a, b, c);
    const { mesh, deviation, volumeChangeMm3 } = skinned(old, 0.7);
    expect(deviation.maxMm).toBeLessThan(0.35);
    expect(deviation.meanMm).toBeLessThan(0.005);
    expect(Math.abs(volumeChangeMm3)).toBeLessThan(600 * 0.005);
    expect(eulerCharacteristic(mesh)).toBe(2);
    expect(selfCrossings(mesh)).toEqual([]);
  });

  // The grid's nodes lie on the cube's far sides, where the winding number is neither inside nor outside.
  it('is sound where grid nodes lie on the skin', () => {
    const { mesh, deviation } = skinned(cube(10), 10 / 14.63);
    expect(deviation.maxMm).toBeLessThan(0.7);
    expect(selfCrossings(mesh)).toEqual([]);
    expect(eulerCharacteristic(mesh)).toBe(2);
  });

  it('keeps the hole of a torus', () => {
    const old = torus(10, 3, 96, 48);
    const { mesh, deviation, volumeChangeMm3 } = skinned(old, 0.5);
    expect(eulerCharacteristic(mesh)).toBe(0);
    expect(auditMesh(mesh).shellCount).toBe(1);
    expect(deviation.maxMm).toBeLessThan(0.1);
    expect(Math.abs(volumeChangeMm3)).toBeLessThan(coat(old, deviation.meanMm));
  });

  it('keeps a hollow, and the ball inside it', () => {
    const old = nestedBalls(4);
    const { mesh, deviation, volumeChangeMm3 } = skinned(old, 0.8);
    expect(auditMesh(mesh).shellCount).toBe(3);
    expect(deviation.maxMm).toBeLessThan(0.8);
    expect(Math.abs(volumeChangeMm3)).toBeLessThan(coat(old, deviation.meanMm));
  });

  it('is the same every time, and leaves the old mesh as it was', () => {
    const old = lumpySphere(2, 10, 3);
    const copy = { positions: old.positions.slice(), triangles: old.triangles.slice() };
    const [first, second] = [skinned(old, 1), skinned(old, 1)];
    expect(second).toEqual(first);
    expect(old).toEqual(copy);
  });

  it('works where coordinates are far from zero and steps between them coarse', () => {
    const far = moved(ball(100), [1e5, -2e5, 5e4]);
    const { leastCellMm } = estimateReSkin(far, 1);
    expect(leastCellMm).toBe(256 * 2 ** -6);
    const { deviation, mesh } = skinned(far, 8);
    expect(deviation.maxMm).toBeLessThan(0.75 * 0.64 + 0.16 + 0.3);
    expect(eulerCharacteristic(mesh)).toBe(2);
  });
});

describe('a new skin of an unsound figure', () => {
  // Two balls of radius R, d apart, share a lens of π (4R + d)(2R − d)² / 12. Facets lie between the ball and the largest
  // one that fits inside them.
  it('unites two balls that overlap', () => {
    const [one, two] = [ball(10), moved(ball(10), [12, 1, 2])];
    const d = Math.hypot(12, 1, 2);
    const union = (r: number) => (8 / 3) * Math.PI * r ** 3 - (Math.PI * (4 * r + d) * (2 * r - d) ** 2) / 12;
    const { mesh, deviation } = skinned(together(one, two), 0.6);
    expect(auditMesh(mesh).shellCount).toBe(1);
    expect(plainVolume(mesh)).toBeLessThan(union(10));
    expect(plainVolume(mesh)).toBeGreaterThan(union(inscribedRadius(one) - 0.75 * 0.036 - 0.02 * 0.6));
    // The sheets inside do not count: their middles are some 4 mm from any skin.
    expect(deviation.maxMm).toBeLessThan(0.6);
  });

  // A flat hole's own cap is where the winding number is half: w beside a hole that spans Ω is 1 − Ω/4π, and a plane
  // is seen from itself under 2π. So caps lie in their triangles but for what other holes add, within a hole's width.
  it('closes a soup of which 5 % is missing', () => {
    const whole = ball(10);
    const soup = without(whole, few);
    const missing = measureMesh(whole).areaMm2 - measureMesh(soup).areaMm2;
    expect(missing).toBeGreaterThan(0.04 * measureMesh(whole).areaMm2);
    const { mesh } = skinned(soup, 0.5);
    expect(auditMesh(mesh).shellCount).toBe(1);
    const chords = measureMesh(whole).areaMm2 * (0.75 * 0.025 + 0.01);
    const longestEdge = 0.8;
    expect(Math.abs(plainVolume(mesh) - plainVolume(whole))).toBeLessThan(chords + missing * longestEdge);
  });

  // A turned triangle takes away Ω/2π instead: inside is then where Ω < π, which over a disc of radius r ends r/√3 from it.
  it('bears single triangles that face the wrong way', () => {
    const whole = ball(10);
    const triangles = whole.triangles.slice();
    for (let t = 0; t < triangles.length / 3; t++) if (few(t)) triangles.subarray(t * 3, t * 3 + 3).reverse();
    const { mesh, deviation } = skinned({ positions: whole.positions, triangles }, 0.5);
    const radius = 0.8 / Math.sqrt(3);
    const turnedArea = measureMesh(whole).areaMm2 / 19;
    const chords = measureMesh(whole).areaMm2 * (0.75 * 0.025 + 0.01);
    expect(deviation.maxMm).toBeLessThan(radius / Math.sqrt(3) + 0.5);
    expect(Math.abs(plainVolume(mesh) - plainVolume(whole))).toBeLessThan(
      chords + (2 * turnedArea * radius) / Math.sqrt(3),
    );
  });

  // Seen from the plane of its rim a cup fills half of all directions: the level of a half is flat there.
  it('closes a box without its lid flat, at the rim', () => {
    const cup = without(fanned(box([-6, -5, -8], [6, 5, 0])), (t) => t === 2 || t === 3);
    const { mesh } = skinned(cup, 0.5);
    const tops = [...mesh.positions].filter((_, i) => i % 3 === 2);
    expect(Math.max(...tops)).toBeLessThan(0.1);
    expect(plainVolume(mesh)).toBeGreaterThan(960 - 120 * 0.05);
    expect(plainVolume(mesh)).toBeLessThan(960 + 120 * 0.05);
    expect(eulerCharacteristic(mesh)).toBe(2);
  });

  it('takes a doubled skin for one', () => {
    const { mesh } = skinned(together(ball(10), ball(10)), 1);
    expect(auditMesh(mesh).shellCount).toBe(1);
    expect(plainVolume(mesh)).toBeCloseTo(plainVolume(skinned(ball(10), 1).mesh), 3);
  });

  it('makes something sound of triangles strewn at random, or says that there is nothing, seed 511', () => {
    const corner = fc.integer({ min: -4096, max: 4096 }).map((n) => n / 512);
    let made = 0;
    fc.assert(
      fc.property(fc.array(corner, { minLength: 180, maxLength: 540 }), (corners) => {
        const count = Math.floor(corners.length / 9);
        const soup = {
          positions: Float32Array.from(corners.slice(0, count * 9)),
          triangles: Uint32Array.from({ length: count * 3 }, (_, i) => i),
        };
        try {
          const { mesh } = skinned(soup, 1.1);
          expect(selfCrossings(mesh)).toEqual([]);
          made++;
        } catch (thrown) {
          if (!(thrown instanceof PegwrightError && thrown.code === 're-skin-empty')) throw thrown;
        }
      }),
      { seed: 511, numRuns: trials(25, 10) },
    );
    expect(made).toBeGreaterThan(trials(15, 5));
  });
});

describe('a new skin', () => {
  it.each([
    ['a lumpy ball', lumpySphere(5, 10, 3), 1.5],
    ['two that overlap', overlapping(7), 1.5],
    ['a ball in a hollow', nestedBalls(9), 3],
    ['a thin ring', turned(torus(10, 1.2, 60, 12), 0.5, 0.6, 0.7), 1.1],
    ['a soup', without(lumpySphere(11, 10, 3), few), 1.2],
    ['a thin plate', turned(fanned(box([0, 0, 0], [12, 9, 0.9])), 0.2, 0.5, 0.1), 1],
  ])('does not cross itself: %s', (_, old, cell) => {
    expect(selfCrossings(skinned(old, cell).mesh)).toEqual([]);
  });

  it('is judged by a search that sees crossings and folds where there are some', () => {
    expect(selfCrossings(overlapping(7)).length).toBeGreaterThan(10);
    // Two triangles that share an edge and lie on each other.
    const folded = {
      positions: Float32Array.of(0, 0, 0, 4, 0, 0, 1, 3, 0, 2, 2, 0),
      triangles: Uint32Array.of(0, 1, 2, 1, 0, 3),
    };
    expect(selfCrossings(folded)).toEqual([[0, 1]]);
    expect(selfCrossings(ball(10, 2))).toEqual([]);
  });

  it('is refused when it would be too big, and the least cell that would do is named', () => {
    const old = ball(10);
    const facts = refusal(() => reSkin(old, { cellMm: 0.01 }));
    expect(facts).toMatchObject({
      code: 're-skin-too-fine',
      facts: { cellMm: 0.01, limit: LIMITS.reSkinCells },
    });
    const { leastCellMm, cells } = estimateReSkin(old, 0.01);
    expect(facts.facts).toMatchObject({ leastCellMm, cells });
    const sentence = inEnglish.refusal(toErrorRecord(facts));
    expect(sentence).toContain('1\u202f500\u202f000 cells in all and 2\u202f048 along a side');
    expect(sentence).toContain(`${(Math.ceil(leastCellMm * 1000) / 1000).toFixed(3)} mm or more`);
    expect(estimateReSkin(old, leastCellMm).cells).toBeLessThanOrEqual(LIMITS.reSkinCells + 1);
    for (const cellMm of [0, -1, Number.NaN]) {
      expect(refusal(() => reSkin(old, { cellMm })).code).toBe('re-skin-too-fine');
    }
  });

  it('is refused where nothing is inside', () => {
    expect(refusal(() => reSkin(insideOut(ball(10, 2)), { cellMm: 1 })).code).toBe('re-skin-empty');
    const sheet = {
      positions: Float32Array.of(0, 0, 0, 9, 0, 1, 0, 9, 1),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(refusal(() => reSkin(sheet, { cellMm: 20 })).code).toBe('re-skin-empty');
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(refusal(() => reSkin(none, { cellMm: 1 })).code).toBe('re-skin-empty');
  });

  it('costs what was estimated, within a fifth', () => {
    for (const old of [ball(10), torus(10, 3, 96, 48)]) {
      const { triangles } = estimateReSkin(old, 0.5);
      const made = skinned(old, 0.5).mesh.triangles.length / 3;
      expect(made / triangles).toBeGreaterThan(0.8);
      expect(made / triangles).toBeLessThan(1.2);
    }
  });

  it('suggests a cell as wide as an edge is long, between a 256th and a 128th of the length', () => {
    expect(suggestCellMm(ball(10, 1))).toBe(0.16);
    expect(suggestCellMm(together(ball(1, 5), cube(20)))).toBe(0.083);
    const fine = ball(10, 7);
    expect(suggestCellMm(fine)).toBeGreaterThan(0.08);
    expect(suggestCellMm(fine)).toBeLessThan(0.1);
  });

  it('tells how far it is, onward to the end', () => {
    const told: number[] = [];
    reSkin(ball(10), { cellMm: 0.5, onProgress: (done) => told.push(done) });
    expect(told.at(-1)).toBe(1);
    expect(told.length).toBeGreaterThan(5);
    expect(told.every((done, i) => i === 0 || done >= told[i - 1])).toBe(true);
  });
});

function refusal(run: () => unknown): PegwrightError {
  try {
    run();
  } catch (thrown) {
    if (thrown instanceof PegwrightError) return thrown;
    throw thrown;
  }
  throw new Error('nothing was refused');
}
