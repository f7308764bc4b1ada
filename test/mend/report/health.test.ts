import { describe, expect, it } from 'vitest';
import { checkHealth, type DefectKind } from '../../../src/mend/report/health.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { weld } from '../../../src/mesh/topology/weld.ts';
import { icosphere, insideOut, lumpySphere, nestedBalls, overlapping } from '../../support/figures.ts';
import { inEnglish } from '../../support/in-english.ts';
import { scaled } from '../../support/meshes.ts';
import { box, fanned, moved, together } from '../../support/simple-solids.ts';

const cube = fanned(box([0, 0, 0], [2, 2, 2]));
const ball = lumpySphere(2, 10, 3);

/** Kinds and counts of what is found. */
const found = (mesh: Mesh): Partial<Record<DefectKind, number>> =>
  Object.fromEntries(checkHealth(weld(mesh).mesh).defects.map(({ kind, count }) => [kind, count]));

const withTriangles = (mesh: Mesh, triangles: number[]): Mesh => ({
  positions: mesh.positions,
  triangles: Uint32Array.from(triangles),
});

describe('health', () => {
  it('finds nothing in sound figures', () => {
    for (const mesh of [cube, ball, together(cube, moved(cube, [3, 0, 0]))]) {
      expect(checkHealth(mesh)).toEqual({ defects: [], crossingsComplete: true });
    }
  });

  const [a, b, c] = ball.triangles;
  const rest = [...ball.triangles.subarray(3)];
  const CASES: [what: string, mesh: Mesh, expected: Partial<Record<DefectKind, number>>][] = [
    [
      'two holes',
      withTriangles(
        ball,
        rest.filter((_, i) => Math.floor(i / 3) !== 700),
      ),
      { 'open-edges': 2 },
    ],
    ['a turned triangle', withTriangles(ball, [a, c, b, ...rest]), { 'winding-errors': 3 }],
    [
      'a doubled one',
      withTriangles(ball, [a, b, c, a, b, c, ...rest]),
      { 'doubled-surfaces': 1, 'non-manifold-edges': 3 },
    ],
    [
      'one laid on its back',
      withTriangles(ball, [a, b, c, a, c, b, ...rest]),
      { 'doubled-surfaces': 1, 'non-manifold-edges': 3 },
    ],
    ['a pointed one', withTriangles(ball, [a, b, b, a, b, c, ...rest]), { 'degenerate-triangles': 1 }],
    ['bodies on an edge', together(cube, moved(cube, [2, 2, 0])), { 'non-manifold-edges': 1 }],
    ['bodies on a corner', together(cube, moved(cube, [2, 2, 2])), { 'non-manifold-vertices': 1 }],
    ['inside out', insideOut(ball), { 'inside-out-shells': 1 }],
    [
      'a speck that makes it seem larger',
      together(ball, moved(scaled(cube, 0.12), [60, 0, 0])),
      { specks: 1 },
    ],
    ['a speck', together(ball, moved(scaled(cube, 0.02), [30, 0, 0])), { specks: 1 }],
    ['a hollow', nestedBalls(3), { 'nested-shells': 1 }],
    ['a body within a body', together(ball, scaled(icosphere(1), 3)), { 'overlapping-shells': 1 }],
    ['bodies that cross', overlapping(3), { 'overlapping-shells': 1 }],
  ];
  for (const [what, mesh, expected] of CASES) {
    it(`counts ${what}`, () => {
      const counts = found(mesh);
      expect(counts).toMatchObject(expected);
      const allowed = new Set([...Object.keys(expected), 'winding-errors', 'open-edges']);
      expect(Object.keys(counts).filter((kind) => !allowed.has(kind))).toEqual([]);
    });
  }

  it('counts a surface that runs through itself, and says where', () => {
    const positions = ball.positions.slice();
    // One corner is pulled through the other side.
    const v = a * 3;
    for (let k = 0; k < 3; k++) positions[v + k] *= -2;
    const { defects } = checkHealth({ positions, triangles: ball.triangles });
    const crossing = defects.find(({ kind }) => kind === 'self-intersections');
    expect(crossing?.count).toBeGreaterThan(2);
    expect(crossing?.places).toHaveLength(crossing?.count ?? 0);
    for (const place of crossing?.places ?? []) expect(Math.hypot(...place)).toBeLessThan(25);
  });

  it('says that it stopped early, and gives places to a few hundred', () => {
    expect(checkHealth(ball, -1).crossingsComplete).toBe(false);
    const flipped = withTriangles(
      scaled(icosphere(4), 5),
      [...icosphere(4).triangles].map((_, i, t) => (i % 9 < 3 ? t[i - (i % 3) + [0, 2, 1][i % 3]] : t[i])),
    );
    const { defects } = checkHealth(flipped);
    expect(defects[0].count).toBeGreaterThan(300);
    expect(defects[0].places).toHaveLength(300);
  });

  it('has a sentence for every kind', () => {
    for (const [, mesh] of CASES) {
      for (const defect of checkHealth(weld(mesh).mesh).defects) {
        expect(inEnglish.defect(defect)).toMatch(/^[A-Z0-9].*\d.*\.$|^\d.*\.$/);
      }
    }
  });
});
