import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jointKind } from '../../src/joint/kinds.ts';
import { type BodySpec, type JointSurface, parallelBody } from '../../src/joint/parallel-body.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import { auditMesh, isClosed } from '../../src/mesh/topology/audit.ts';
import { frustumSurface, onSurface, type Point, samplesOn, trianglesOf } from '../support/independent-gap.ts';
import { bodiesOf, pegOf } from '../support/seam-fixture.ts';

const CHORD = TOLERANCES.jointChord;
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Pegs of all proportions that can be made, some sharp-edged, some without draft. */
const pegs = fc
  .record({
    widthMm: between(1, 14),
    heightMm: between(1, 14),
    lengthMm: between(0.6, 14),
    draftDeg: fc.oneof(fc.constant(0), between(0, 20)),
    edgeRadiusMm: fc.oneof(fc.constant(0), between(0.01, 2)),
    sideGapMm: between(0.02, 0.6),
    endGapMm: between(0.02, 1.5),
  })
  .map(pegOf)
  .filter((peg) => jointKind(peg.kind).fault(peg) === null);

const specs = fc
  .tuple(pegs, fc.boolean(), fc.constantFrom(0, -1, -0.3))
  .map(([peg, socket, bottom]) => bodiesOf(peg, bottom)[socket ? 'socket' : 'peg']);

/** The surface with its rim filled, as corner triples. */
function closedTriangles({ positions, triangles, rimCount }: JointSurface) {
  const floor = Array.from({ length: rimCount - 2 }, (_, k) => [0, k + 2, k + 1]).flat();
  return { positions, triangles: Uint32Array.from([...triangles, ...floor]) };
}

function volume({ positions: p, triangles: t }: { positions: Float64Array; triangles: Uint32Array }): number {
  return trianglesOf(p, t).reduce(
    (sum, [a, b, c]) =>
      sum +
      (a[0] * (b[1] * c[2] - b[2] * c[1]) +
        a[1] * (b[2] * c[0] - b[0] * c[2]) +
        a[2] * (b[0] * c[1] - b[1] * c[0])) /
        6,
    0,
  );
}

const simpson = (f: (t: number) => number, from: number, to: number) =>
  ((to - from) / 6) * (f(from) + 4 * f((from + to) / 2) + f(to));

/**
 * Volume and rounded area of K ⊕ B(ρ) above the bottom, piece by piece as Steiner's formula has them
 * (Gruber, *Convex and Discrete Geometry*, 2007, §6; derived for a plane end): the frustum, a slab on each
 * side and on the top, a cylinder's sector along each edge, a ball's at each corner.
 */
function steiner({ core: { corners }, draft, coreTop: top, radius: r, bottom }: BodySpec): {
  volume: number;
  rounded: number;
} {
  const [x0, y0] = corners[0];
  const [sin, cos, tan] = [Math.sin(draft), Math.cos(draft), Math.tan(draft)];
  const [x, y] = [(z: number) => 2 * (x0 - z * tan), (z: number) => 2 * (y0 - z * tan)];
  const core = simpson((z) => x(z) * y(z), bottom, top);
  // A side's slab at distance t from the core begins at core height bottom − t sin(draft).
  const side = (width: (z: number) => number) =>
    simpson((t) => simpson(width, bottom - t * sin, top) / cos, 0, r);
  const slabs = 2 * side(x) + 2 * side(y) + x(top) * y(top) * r;
  // Upright edges: unit direction (−tan, −tan, 1)/l; their sector's centroid tells how long it is.
  const l = Math.sqrt(1 + 2 * tan * tan);
  const angle = Math.acos(sin * sin);
  const rise = sin / Math.cos(angle / 2);
  const centroid = (r * (2 / 3) * Math.sin(angle / 2)) / (angle / 2);
  const upright = 4 * ((r * r * angle) / 2) * (top + centroid * rise - bottom) * l;
  const bend = Math.PI / 2 - draft;
  const level = ((r * r * bend) / 2) * 2 * (x(top) + y(top));
  // The corner's spherical triangle has two sides of `bend` and one of `angle` (spherical excess).
  const s = bend + angle / 2;
  const excess =
    4 * Math.atan(Math.sqrt(Math.tan(s / 2) * Math.tan((s - bend) / 2) ** 2 * Math.tan((s - angle) / 2)));
  const rounded =
    4 * r * angle * (top + r - bottom) * l + r * bend * 2 * (x(top) + y(top)) + 4 * r * r * excess;
  return { volume: core + slabs + upright + level + (4 * r ** 3 * excess) / 3, rounded };
}

/** A body's core, reaching well below its bottom. */
const coreOf = ({ core: { corners }, draft, coreTop, radius, bottom }: BodySpec) =>
  frustumSurface(corners[0][0], corners[0][1], draft, bottom - 4 * radius - 12, coreTop);

/** Distance of a point from a core that goes on downwards; below zero within it, to the nearest of its planes. */
function signedDistance(p: Point, spec: BodySpec): number {
  const [x, y] = spec.core.corners[0];
  const lean = (width: number, at: number) =>
    (Math.abs(at) - width) * Math.cos(spec.draft) + p[2] * Math.sin(spec.draft);
  const within = Math.max(lean(x, p[0]), lean(y, p[1]), p[2] - spec.coreTop);
  return within <= 0 ? within : onSurface(p, coreOf(spec)).distance;
}

/** True where the flat of a body's tip lies straight above the point. */
const overFlat = (p: Point, { core: { corners }, draft, coreTop }: BodySpec): boolean =>
  [0, 1].every((axis) => Math.abs(p[axis]) <= corners[0][axis] - coreTop * Math.tan(draft));

describe('a parallel body', () => {
  it('is closed with a floor and convex to within the chord, seed 31', () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const body = closedTriangles(parallelBody(spec));
        const audit = auditMesh({ positions: Float32Array.from(body.positions), triangles: body.triangles });
        expect([isClosed(audit), audit.shellCount, audit.pointedTriangles.length]).toEqual([true, 1, 0]);
        const p = body.positions;
        for (const [a, b, c] of trianglesOf(p, body.triangles)) {
          const [u, v] = [b, c].map((q) => [q[0] - a[0], q[1] - a[1], q[2] - a[2]]);
          const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
          const area = Math.hypot(...n);
          if (area < 1e-12) continue;
          let above = Number.NEGATIVE_INFINITY;
          for (let i = 0; i < p.length; i += 3) {
            above = Math.max(
              above,
              n[0] * (p[i] - a[0]) + n[1] * (p[i + 1] - a[1]) + n[2] * (p[i + 2] - a[2]),
            );
          }
          expect(above / area).toBeLessThan(CHORD);
        }
      }),
      { seed: 31, numRuns: 60 },
    );
  });

  it('has every vertex at the radius from its core, the floor of tip and rim included, seed 32', () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const { positions, rimCount } = parallelBody(spec);
        const core = coreOf(spec);
        for (let i = 0; i < positions.length; i += 3) {
          const p: Point = [positions[i], positions[i + 1], positions[i + 2]];
          expect(Math.abs(onSurface(p, core).distance - spec.radius)).toBeLessThan(1e-9);
          if (i < rimCount * 3) expect(p[2]).toBe(spec.bottom);
        }
      }),
      { seed: 32, numRuns: 60 },
    );
  });

  it("has Steiner's volume, short of it by no more than the chord allows, seed 33", () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const exact = steiner(spec);
        const missing = exact.volume - volume(closedTriangles(parallelBody(spec)));
        expect(missing).toBeGreaterThan(-1e-10 * exact.volume);
        expect(missing).toBeLessThan(CHORD * exact.rounded + 1e-10 * exact.volume);
      }),
      { seed: 33, numRuns: 300 },
    );
  });

  it('is exactly the frustum where nothing is rounded: 4 → 2, height 6 gives 56 (Moscow Mathematical Papyrus, problem 14; seen)', () => {
    const corners: [number, number][] = [
      [2, 2],
      [-2, 2],
      [-2, -2],
      [2, -2],
    ];
    const sharp = {
      core: { corners },
      draft: Math.atan(1 / 6),
      coreTop: 6,
      radius: 0,
      bottom: 0,
    };
    expect(volume(closedTriangles(parallelBody(sharp)))).toBeCloseTo(56, 10);
    expect(steiner(sharp).volume).toBeCloseTo(56, 10);
  });

  it('keeps the same gap between peg and socket all over, edges included, seed 34', () => {
    const seen = { side: 0, end: 0 };
    fc.assert(
      fc.property(pegs, (peg) => {
        const { peg: inner, socket: outer } = bodiesOf(peg);
        const surface = parallelBody(inner);
        const socket = parallelBody(outer);
        const core = coreOf(inner);
        const sockets = trianglesOf(socket.positions, socket.triangles);
        const all = samplesOn(trianglesOf(surface.positions, surface.triangles), 3);
        const every = Math.ceil(all.length / 300);
        for (const p of all.filter((_, i) => i % every === 0)) {
          // A facet of a ball bends both ways: its middle may be two chords off.
          const { distance } = onSurface(p, sockets);
          expect(Math.abs(distance - (outer.radius - signedDistance(p, outer)))).toBeLessThan(2 * CHORD);
          // Where the peg is grown from its core's sides, below both cores' tops, the gap is the side gap.
          if (onSurface(p, core).at[2] < Math.min(inner.coreTop, outer.coreTop) - 1e-6) {
            expect(Math.abs(distance - peg.sideGapMm)).toBeLessThan(2 * CHORD);
            seen.side++;
          } else if (p[2] > peg.lengthMm - 1e-9 && overFlat(p, outer) && peg.endGapMm <= peg.sideGapMm) {
            expect(Math.abs(distance - peg.endGapMm)).toBeLessThan(2 * CHORD);
            seen.end++;
          }
        }
      }),
      { seed: 34, numRuns: 40 },
    );
    expect(seen.side).toBeGreaterThan(1_000);
    expect(seen.end).toBeGreaterThan(5);
  }, 60_000);

  it('has the width and height asked for at the face, and its tip at the length', () => {
    const peg = pegOf({ widthMm: 7, heightMm: 5, lengthMm: 6, draftDeg: 9, edgeRadiusMm: 0.7 });
    const { positions, rimCount } = parallelBody(bodiesOf(peg).peg);
    const rim = positions.subarray(0, rimCount * 3);
    const most = (list: Float64Array, axis: number) =>
      list.reduce((m, v, i) => (i % 3 === axis ? Math.max(m, v) : m), 0);
    expect(most(rim, 0)).toBeCloseTo(3.5, 12);
    expect(most(rim, 1)).toBeCloseTo(2.5, 12);
    expect(most(positions, 2)).toBeCloseTo(6, 12);
    const socket = parallelBody(bodiesOf(peg).socket);
    expect(most(socket.positions.subarray(0, socket.rimCount * 3), 0)).toBeCloseTo(
      3.5 + 0.12 / Math.cos((9 * Math.PI) / 180),
      12,
    );
    expect(most(socket.positions, 2)).toBeCloseTo(6.4, 12);
  });
});
