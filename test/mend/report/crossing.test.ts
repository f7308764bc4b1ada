import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trianglesCross } from '../../../src/mend/report/crossing.ts';
import { findCrossings } from '../../../src/mend/report/self-crossings.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { icosphere, lumpySphere, overlapping } from '../../support/figures.ts';
import { moved, together } from '../../support/simple-solids.ts';

type Big = [bigint, bigint, bigint];

const sub = (a: Big, b: Big): Big => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: Big, b: Big): Big => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Big, b: Big): bigint => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const order = (a: bigint, b: bigint): number => (a < b ? -1 : a > b ? 1 : 0);
const isZero = (a: Big): boolean => a.every((v) => v === 0n);

/**
 * Whether two plane convex polygons have a point in common, in whole numbers: they have none exactly where some axis
 * parts them, of the polygons' normals, the normals of their sides within them, and the products of two sides
 * (Gottschalk, Lin & Manocha, *SIGGRAPH* 1996).
 */
function polygonsMeet(s: Big[], t: Big[]): boolean {
  const sides = (polygon: Big[]) => polygon.map((p, i) => sub(polygon[(i + 1) % polygon.length], p));
  const [es, et] = [sides(s), sides(t)];
  const [ns, nt] = [cross(es[0], es[1]), cross(et[0], et[1])];
  const axes = [
    ns,
    nt,
    ...es.map((e) => cross(ns, e)),
    ...et.map((e) => cross(nt, e)),
    ...es.flatMap((e) => et.map((f) => cross(e, f))),
  ];
  return !axes.some((axis) => {
    if (isZero(axis)) return false;
    const [ps, pt] = [s.map((p) => dot(axis, p)), t.map((p) => dot(axis, p))];
    const least = (values: bigint[]) => [...values].sort(order)[0];
    const most = (values: bigint[]) => [...values].sort(order)[values.length - 1];
    return most(ps) < least(pt) || most(pt) < least(ps);
  });
}

/** One tip of a triangle is cut off at this share of its sides: nearer the corner no two of these small triangles end. */
const TIP = 4096n;

/** What `trianglesCross` promises, the plain way. */
function crossPlainly(s: number[][], t: number[][]): boolean {
  const scaled = (corners: number[][]) => corners.map((p) => p.map((v) => BigInt(v) * TIP) as Big);
  const [bs, bt] = [scaled(s), scaled(t)];
  const common = s.flatMap((p, i) => t.flatMap((q, j) => (p.join() === q.join() ? [[i, j]] : [])));
  const flat = [bs, bt].some((c) => isZero(cross(sub(c[1], c[0]), sub(c[2], c[0]))));
  if (flat || common.length > 1) return false;
  if (common.length === 0) return polygonsMeet(bs, bt);
  const i = common[0][0];
  const [tip, a, b] = [bs[i], bs[(i + 1) % 3], bs[(i + 2) % 3]];
  const near = (end: Big): Big => tip.map((v, k) => v + (end[k] - v) / TIP) as Big;
  return polygonsMeet([near(a), a, b, near(b)], bt);
}

const point = (most: number) => fc.tuple(fc.nat(most), fc.nat(most), fc.nat(most));
const triangle = (most: number) => fc.tuple(point(most), point(most), point(most));

describe('two triangles', () => {
  for (const [most, seed] of [
    [2, 41],
    [3, 42],
    [9, 43],
  ]) {
    it(`cross where no axis parts them, on a grid of ${most + 1}³ points, seed ${seed}`, () => {
      let crossing = 0;
      fc.assert(
        fc.property(triangle(most), triangle(most), (s, t) => {
          const expected = crossPlainly(s, t);
          if (expected) crossing++;
          const positions = Float32Array.from([...s.flat(), ...t.flat()]);
          expect(trianglesCross(positions, [0, 3, 6], [9, 12, 15])).toBe(expected);
          expect(trianglesCross(positions, [15, 9, 12], [3, 6, 0])).toBe(expected);
        }),
        { seed, numRuns: 4000 },
      );
      expect(crossing).toBeGreaterThan(200);
    });
  }

  it('with a common corner cross where they have more in common, seed 44', () => {
    let crossing = 0;
    fc.assert(
      fc.property(triangle(4), point(4), point(4), ([a, b, c], d, e) => {
        const expected = crossPlainly([a, b, c], [a, d, e]);
        if (expected) crossing++;
        const positions = Float32Array.from([a, b, c, a, d, e].flat());
        expect(trianglesCross(positions, [0, 3, 6], [0, 12, 15])).toBe(expected);
        expect(trianglesCross(positions, [3, 6, 0], [15, 9, 12])).toBe(expected);
      }),
      { seed: 44, numRuns: 4000 },
    );
    expect(crossing).toBeGreaterThan(200);
  });
});

describe('the search for crossings', () => {
  const all = ({ positions, triangles: t }: Mesh): string[] => {
    const found: string[] = [];
    const at = (i: number) => [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3] as const;
    for (let i = 0; i < t.length; i += 3)
      for (let j = i + 3; j < t.length; j += 3)
        if (trianglesCross(positions, at(i), at(j))) found.push(`${i / 3} ${j / 3}`);
    return found.sort();
  };
  const searched = (mesh: Mesh): string[] => {
    const { pairs, complete } = findCrossings(mesh);
    expect(complete).toBe(true);
    return pairs.flatMap((a, i) => (i % 2 === 0 ? [`${a} ${pairs[i + 1]}`] : [])).sort();
  };

  it('finds what trying every pair finds, on triangles at random, seed 45', () => {
    fc.assert(
      fc.property(fc.array(triangle(12), { minLength: 20, maxLength: 60 }), (list) => {
        const positions = Float32Array.from(list.flat(2));
        const mesh = { positions, triangles: Uint32Array.from({ length: list.length * 3 }, (_, i) => i) };
        expect(searched(mesh)).toEqual(all(mesh));
      }),
      { seed: 45, numRuns: 40 },
    );
  });

  it('finds what trying every pair finds where two figures run through each other', () => {
    const mesh = overlapping(3);
    const pairs = all(mesh);
    expect(pairs.length).toBeGreaterThan(30);
    expect(searched(mesh)).toEqual(pairs);
  });

  it('finds nothing in a lumpy sphere, nor between two apart', () => {
    expect(searched(lumpySphere(9, 10, 3))).toEqual([]);
    expect(searched(together(icosphere(2), moved(icosphere(2), [2.5, 0, 0])))).toEqual([]);
  });

  it('says when it ran out of time', () => {
    expect(findCrossings(overlapping(3), -1)).toEqual({ pairs: [], complete: false });
  });
});
