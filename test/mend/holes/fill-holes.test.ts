import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { divideOutline } from '../../../src/mend/holes/divide-outline.ts';
import { type Filled, fillHoles } from '../../../src/mend/holes/fill-holes.ts';
import { holeOutlines } from '../../../src/mend/holes/hole-outlines.ts';
import { smallHoles } from '../../../src/mend/holes/small-holes.ts';
import { NO_APEX } from '../../../src/mend/holes/span-outline.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { auditMesh, isClosed } from '../../../src/mesh/topology/audit.ts';
import { someOf, soupOf } from '../../support/damage.ts';
import { icosphere, lumpySphere } from '../../support/figures.ts';
import { scaled } from '../../support/meshes.ts';
import { box, fanned, plainVolume, torus } from '../../support/simple-solids.ts';
import { triangleKeys } from '../../support/stl-bytes.ts';

const fillAll = (mesh: Mesh, how: 'flat' | 'smooth'): Filled => fillHoles(mesh, holeOutlines(mesh), how);

/** The mesh without the triangles that `choose` takes by their middle. */
function without(
  { positions, triangles: t }: Mesh,
  choose: (middle: number[], triangle: number) => boolean,
): Mesh {
  const kept: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const middle = [0, 1, 2].map(
      (k) => (positions[t[i] * 3 + k] + positions[t[i + 1] * 3 + k] + positions[t[i + 2] * 3 + k]) / 3,
    );
    if (!choose(middle, i / 3)) kept.push(...t.subarray(i, i + 3));
  }
  return { positions, triangles: Uint32Array.from(kept) };
}

function expectFilled(open: Mesh, { mesh }: Filled): void {
  const audit = auditMesh(mesh);
  expect(isClosed(audit)).toBe(true);
  expect(audit.degenerateTriangles).toBe(0);
  // What was there is there, in order and to the bit.
  expect(mesh.triangles.subarray(0, open.triangles.length)).toEqual(open.triangles);
  expect(mesh.positions.subarray(0, open.positions.length)).toEqual(open.positions);
}

describe('filling holes', () => {
  for (const how of ['flat', 'smooth'] as const) {
    it(`${how}: closes any pattern of triangles taken out of a lumpy sphere, seed 61`, () => {
      const ball = lumpySphere(5, 20, 3);
      const count = ball.triangles.length / 3;
      fc.assert(
        fc.property(fc.integer({ min: 1, max: 150 }), fc.nat(1e6), (gone, seed) => {
          const listed = someOf(gone, count, seed);
          const open = without(ball, (_, triangle) => listed.has(triangle));
          const filled = fillAll(open, how);
          const audit = auditMesh(filled.mesh);
          // Triangles that keep a lone neighbour may come to float, and be closed as flakes: closed they are.
          expect(audit).toMatchObject({ openEdges: 0, windingErrors: 0, nonManifoldEdges: 0 });
          const kept = triangleKeys(soupOf(filled.mesh));
          expect(kept.slice(0, open.triangles.length / 3)).toEqual(triangleKeys(soupOf(open)));
          expect(Math.abs(plainVolume(filled.mesh) / plainVolume(ball) - 1)).toBeLessThan(0.02);
        }),
        { seed: 61, numRuns: 40 },
      );
    });
  }

  it('flat: gives a round hole in a sphere the flat cap’s volume at most away from the sphere’s', () => {
    const ball = scaled(icosphere(4), 10);
    for (const height of [9, 7, 4]) {
      const open = without(ball, ([, , z]) => z > height);
      const filled = fillAll(open, 'flat');
      expectFilled(open, filled);
      expect(filled).toMatchObject({ filledCount: 1, crossings: 0 });
      // A cap of height h: πh²(3r − h)/3. The rim is ragged by a triangle's size, 0.7 mm at most, to either side.
      const cap = (h: number) => (Math.PI * h * h * (30 - h)) / 3;
      const lost = plainVolume(ball) - plainVolume(filled.mesh);
      expect(lost).toBeGreaterThan(cap(10 - height - 0.7));
      expect(lost).toBeLessThan(cap(10 - height + 0.7));
    }
  });

  it('smooth: goes on as a sphere where a sphere is open', () => {
    const ball = scaled(icosphere(4), 10);
    for (const [height, slack] of [
      // Where the flat patch is 1 mm off at its middle, and 3 mm: least bending is not the sphere, and lies lower.
      [9, 0.05],
      [7, 0.75],
    ]) {
      const open = without(ball, ([, , z]) => z > height);
      const filled = fillAll(open, 'smooth');
      expectFilled(open, filled);
      expect(filled.crossings).toBe(0);
      const p = filled.mesh.positions;
      for (let v = open.positions.length; v < p.length; v += 3) {
        expect(Math.abs(Math.hypot(p[v], p[v + 1], p[v + 2]) - 10)).toBeLessThan(slack);
      }
      // As dense as the sphere: the patch has about as many triangles as were taken.
      const [gone, come] = [ball, filled.mesh].map(
        (mesh) => (mesh.triangles.length - open.triangles.length) / 3,
      );
      expect(come / gone).toBeGreaterThan(0.4);
      expect(come / gone).toBeLessThan(2.5);
    }
  });

  it('does not put an edge where one is', () => {
    // Of a vertex of three triangles in a tetrahedron two are gone: the outline's only chord is taken.
    const positions = Float32Array.of(0, 0, 0, 4, 0, 0, 0, 4, 0, 0, 0, 4);
    const open = { positions, triangles: Uint32Array.of(0, 2, 1, 0, 1, 3) };
    expectFilled(open, fillAll(open, 'flat'));
  });

  it('fills outlines of thousands of corners, level, ragged and wound up', () => {
    const ring = torus(40, 10, 1600, 12);
    for (const choose of [
      ([x, y]: number[]) => Math.hypot(x, y) > 45 && x > -30,
      ([x, , z]: number[]) => z > 5 && x > -30,
    ]) {
      const open = without(ring, choose);
      expect(Math.max(...holeOutlines(open).map((outline) => outline.length))).toBeGreaterThan(1600);
      const filled = fillAll(open, 'flat');
      expect(auditMesh(filled.mesh)).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, windingErrors: 0 });
    }
  });

  it('tries twice as many chords where an outline has twice the corners, past those it spans at its best', () => {
    const chordsTried = (n: number) => {
      // Three times about an axis, so that it crosses itself in every plane.
      const turn = (i: number) => (6 * Math.PI * i) / n;
      const points = Array.from({ length: n }, (_, i) => [
        (20 + 5 * Math.cos(turn(i) / 3)) * Math.cos(turn(i)),
        (20 + 5 * Math.cos(turn(i) / 3)) * Math.sin(turn(i)),
        5 * Math.sin(turn(i) / 3),
      ]);
      let tried = 0;
      const outline = { ring: points.map((_, i) => i), apexes: points.map(() => NO_APEX) };
      const spanned = divideOutline(Float32Array.from(points.flat()), outline, () => {
        tried++;
        return false;
      });
      expect(spanned?.length).toBe((n - 2) * 3);
      return tried;
    };
    const few = chordsTried(1000);
    expect(few).toBeGreaterThan(1000);
    expect(chordsTried(2000) / few).toBeLessThan(2.5);
  });

  it('leaves holes that are large, or are the rim of a sheet', () => {
    const ball = scaled(icosphere(3), 10);
    const open = without(ball, ([, , z]) => z > 9);
    const chosen = (mesh: Mesh, size: number) => smallHoles(mesh, auditMesh(mesh), size).length;
    // The hole is some 9 mm across and has many corners: three hundredths of the figure are the limit.
    expect(chosen(open, 150)).toBe(0);
    expect(chosen(open, 500)).toBe(1);
    // One triangle lost, 1.5 mm across its box: a tenth is.
    const lacking = { positions: ball.positions, triangles: ball.triangles.slice(3) };
    expect(chosen(lacking, 12)).toBe(0);
    expect(chosen(lacking, 40)).toBe(1);
    const sheet = { positions: open.positions, triangles: open.triangles.slice(0, 3) };
    expect(chosen(sheet, 150)).toBe(0);
  });

  it('closes the crack that a vertex on one side of an edge leaves, however long', () => {
    // A box whose front lower edge has its middle on one face only.
    const { vertices, faces } = box([0, 0, 0], [8, 4, 2]);
    const split = faces.map((face) => (face.join() === '0,1,5,4' ? [8, 1, 5, 4, 0] : face));
    const mesh = fanned({ vertices: [...vertices, [4, 0, 0]], faces: split });
    expect(auditMesh(mesh).openEdges).toBe(3);
    const outlines = smallHoles(mesh, auditMesh(mesh), Math.hypot(8, 4, 2));
    const { mesh: closed, crossings, deviationMm } = fillHoles(mesh, outlines, 'flat');
    expect(isClosed(auditMesh(closed))).toBe(true);
    expect(plainVolume(closed)).toBe(64);
    expect(crossings).toBe(0);
    expect(deviationMm).toBe(0);
    // A crack in nothing is a triangle's own outline.
    const sliver = { positions: mesh.positions, triangles: Uint32Array.of(0, 8, 1) };
    expect(smallHoles(sliver, auditMesh(sliver), 10)).toEqual([]);
  });

  it('tells holes that meet in a corner one by one', () => {
    const ball = scaled(icosphere(2), 10);
    const t = ball.triangles;
    // Two triangles of one corner that share no edge.
    const at = [...t.keys()].filter((i) => t[i] === t[0]).map((i) => Math.floor(i / 3));
    const others = (triangle: number) =>
      [...t.subarray(triangle * 3, triangle * 3 + 3)].filter((v) => v !== t[0]);
    const second = at.find((triangle) => !others(triangle).some((v) => others(0).includes(v)));
    const open = without(ball, (_, triangle) => triangle === 0 || triangle === second);
    expect(holeOutlines(open).map((ring) => ring.length)).toEqual([3, 3]);
    const filled = fillAll(open, 'flat');
    expectFilled(open, filled);
    expect(plainVolume(filled.mesh)).toBeCloseTo(plainVolume(ball), 6);
  });
});
