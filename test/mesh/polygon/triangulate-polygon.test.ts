import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipEars } from '../../../src/mesh/polygon/clip-ears.ts';
import { triangulatePolygon } from '../../../src/mesh/polygon/triangulate-polygon.ts';
import { countedReads } from '../../support/counted-reads.ts';

type Point = readonly [number, number];

/** Twice the signed area of a plane polygon (shoelace). */
const twiceArea = (points: readonly Point[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length];
    return sum + x * v - u * y;
  }, 0);

/** Triangulates a polygon laid on a slanting plane and hands back the triangles' plane areas, twice. */
function twiceAreas(points: readonly Point[]): number[] {
  const positions = Float64Array.from(points.flatMap(([x, y]) => [x, y, 0.3 * x - 0.7 * y]));
  const triangles = new Uint32Array((points.length - 2) * 3);
  triangulatePolygon(
    positions,
    Uint32Array.from(points, (_, i) => i),
    triangles,
    0,
  );
  const areas: number[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    areas.push(twiceArea(Array.from(triangles.subarray(i, i + 3), (v) => points[v])));
  }
  return areas;
}

/** All triangles face the polygon's way and together cover it once. */
function expectCovered(points: readonly Point[]): void {
  const areas = twiceAreas(points);
  const total = twiceArea(points);
  expect(Math.min(...areas)).toBeGreaterThan(0);
  expect(Math.abs(areas.reduce((a, b) => a + b, 0) - total)).toBeLessThan(1e-9 * total);
}

const star = (radii: number[]): Point[] =>
  radii.map((r, i) => {
    const a = (2 * Math.PI * i) / radii.length;
    return [r * Math.cos(a), r * Math.sin(a)];
  });

/** A double spiral: a corridor wound `turns` times. */
function spiral(turns: number, perTurn: number): Point[] {
  const arm = (offset: number): Point[] =>
    Array.from({ length: turns * perTurn }, (_, i) => {
      const a = (2 * Math.PI * i) / perTurn;
      const r = 1 + a / (2 * Math.PI) + offset;
      return [r * Math.cos(a), r * Math.sin(a)];
    });
  return [...arm(0.5), ...arm(0).reverse()];
}

describe('polygons of a mesh', () => {
  it('cuts a concave quad along its inner diagonal, whichever corner is the notch', () => {
    const arrow: Point[] = [
      [0, 0],
      [4, -3],
      [1, 0],
      [4, 3],
    ];
    for (let turn = 0; turn < 4; turn++) {
      expectCovered(arrow.map((_, i) => arrow[(i + turn) % 4]));
    }
  });

  it('covers star-shaped polygons at random, seed 5', () => {
    const radii = fc.array(fc.double({ min: 0.2, max: 5, noNaN: true }), { minLength: 5, maxLength: 60 });
    fc.assert(
      fc.property(radii, (r) => expectCovered(star(r))),
      { seed: 5, numRuns: 300 },
    );
  });

  it('covers a spiral', () => expectCovered(spiral(6, 24)));

  it('makes no flat triangle of corners in a straight row while it can be helped', () => {
    const row: Point[] = [
      [0, 0],
      [1, 0],
      [2, 0],
      [3, 0],
      [3, 2],
      [0, 2],
    ];
    for (let turn = 0; turn < row.length; turn++) {
      expectCovered(row.map((_, i) => row[(i + turn) % row.length]));
    }
  });

  const combOf = (teeth: number): Point[] => [
    ...Array.from({ length: teeth }, (_, i): Point[] => [
      [i, 0],
      [i + 0.5, -10],
    ]).flat(),
    [teeth, 0],
    [teeth, 5],
    [0, 5],
  ];

  it('covers a comb of 5,000 teeth', () => {
    expectCovered(combOf(5_000));
  });

  const looksAt = (points: readonly Point[]) => {
    const { array, reads } = countedReads(Float64Array.from(points.flat()));
    expect(clipEars(array).length).toBe((points.length - 2) * 3);
    return reads();
  };

  it('holds the corners of a wheel against a part of the others', () => {
    const wheel = star(Array.from({ length: 1_000 }, (_, i) => (i % 2 === 0 ? 10 : 9)));
    // Measured: 1.1 reads for each pair of corners, 6.0 where each is held against all that are reflex.
    expect(looksAt(wheel) / wheel.length ** 2).toBeLessThan(3);
  });

  it('looks at the corners of a comb four times as often, and no oftener, where it has twice the teeth', () => {
    expect(looksAt(combOf(500)) / looksAt(combOf(250))).toBeLessThan(4.2);
  });

  it('uses every side of a polygon that crosses itself once, so that its neighbours stay joined', () => {
    const pentagram = star([1, 1, 1, 1, 1]).map((_, i, all) => all[(i * 2) % 5]);
    const corners = Uint32Array.of(0, 1, 2, 3, 4);
    const triangles = new Uint32Array(9);
    triangulatePolygon(Float64Array.from(pentagram.flatMap(([x, y]) => [x, y, 0])), corners, triangles, 0);
    const edges = new Map<string, number>();
    for (let i = 0; i < 9; i++) {
      const [a, b] = [triangles[i], triangles[i % 3 === 2 ? i - 2 : i + 1]];
      edges.set(`${a} ${b}`, (edges.get(`${a} ${b}`) ?? 0) + 1);
    }
    for (let i = 0; i < 5; i++) expect(edges.get(`${i} ${(i + 1) % 5}`)).toBe(1);
  });
});
