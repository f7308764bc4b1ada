import { describe, expect, it } from 'vitest';
import { type BodySpec, parallelBody } from '../../src/joint/parallel-body.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import { draftOfTaper } from '../../src/model/joint.ts';
import { meanCurvature, ngonAround, sums, withFloor } from '../support/meshes.ts';
import { bodiesOf } from '../support/seam-fixture.ts';
import { box, fanned } from '../support/simple-solids.ts';

/**
 * Parallel bodies against Steiner's formula, V(K + rB) = V + S r + M r² + 4/3 π r³
 * (Gruber, *Convex and Discrete Geometry*, 2007, §6; seen). All offsets are rounded ones.
 */

const CHORD = TOLERANCES.jointChord;

/** A straight core of a × b, `half` high, grown by g: with its mirror image below the face, the whole box of 2 × half. */
const halfBox = (a: number, b: number, half: number, g: number) => {
  const corners: [number, number][] = [
    [a / 2, b / 2],
    [-a / 2, b / 2],
    [-a / 2, -b / 2],
    [a / 2, -b / 2],
  ];
  return parallelBody({ core: { corners }, draft: 0, coreTop: half, radius: g, bottom: 0 });
};

describe('the box 10 × 20 × 30 grown by 0.2', () => {
  const [a, b, c, g] = [10, 20, 30, 0.2];
  const body = halfBox(a, b, c / 2, g);
  // Every edge is rounded over a right angle in as many facets of angle θ: its section is a fan of triangles.
  const steps = body.rimCount / 4 - 1;
  const theta = Math.PI / 2 / steps;
  const edges = 4 * (a + b + c);

  it('holds 6447.573332690 (Steiner formula; derived)', () => {
    const published = 6447.57333269;
    const steiner =
      a * b * c +
      2 * (a * b + b * c + c * a) * g +
      Math.PI * (a + b + c) * g ** 2 +
      (4 / 3) * Math.PI * g ** 3;
    expect(steiner).toBeCloseTo(published, 8);
    const volume = 2 * sums(withFloor(body)).volume;
    // A fan of θ has sin(θ)/θ of its sector. The eight corners make a ball, whose facets are within the chord of it.
    const flat = steiner - edges * (Math.PI / 4) * g ** 2 * (1 - Math.sin(theta) / theta);
    const ball = (4 / 3) * Math.PI * (g ** 3 - (g - CHORD) ** 3);
    expect(volume).toBeLessThan(flat + 1e-9);
    expect(volume).toBeGreaterThan(flat - ball);
    expect(Math.abs(volume / published - 1)).toBeLessThan(1.1e-5);
  });

  it('has a skin of 2275.900878511 (Steiner formula; derived)', () => {
    const published = 2275.900878511;
    const steiner = 2 * (a * b + b * c + c * a) + 2 * Math.PI * (a + b + c) * g + 4 * Math.PI * g ** 2;
    expect(steiner).toBeCloseTo(published, 8);
    const area = 2 * sums(body).area;
    // A chord is 2 sin(θ/2)/θ of its arc.
    const flat = steiner - edges * (Math.PI / 2) * g * (1 - (2 * Math.sin(theta / 2)) / theta);
    const ball = 4 * Math.PI * (g ** 2 - (g - CHORD) ** 2);
    expect(area).toBeLessThan(flat + 1e-9);
    expect(area).toBeGreaterThan(flat - ball);
    expect(Math.abs(area / published - 1)).toBeLessThan(7.5e-5);
  });
});

describe('integral mean curvature', () => {
  it('is π (a + b + c) for a box (Wikipedia “Mean width”, citing Moszyńska 2006; memory)', () => {
    expect(meanCurvature(fanned(box([0, 0, 0], [10, 20, 30])))).toBeCloseTo(Math.PI * 60, 10);
  });

  it('of the box grown by 0.2 is greater by 4π · 0.2 (Steiner formula; derived)', () => {
    // Twice the upper half: its walls meet their mirror images without a bend. A grown box with facets holds the
    // one grown by less than the chord, and M grows with the body.
    const total = 2 * meanCurvature(halfBox(10, 20, 15, 0.2));
    expect(total).toBeLessThan(Math.PI * 60 + 4 * Math.PI * 0.2 + 1e-9);
    expect(total).toBeGreaterThan(Math.PI * 60 + 4 * Math.PI * (0.2 - CHORD));
  });

  it('of the regular tetrahedron of edge 10 is 57.318997 (Steiner formula; derived)', () => {
    const height = 10 * Math.sqrt(2 / 3);
    const apothem = 10 / (2 * Math.sqrt(3));
    // A core cannot come to a point. Cut off this share below the apex it still holds the tetrahedron so much smaller.
    const share = 1e-7;
    const spec: BodySpec = {
      core: { corners: ngonAround(3, apothem) },
      draft: Math.atan(apothem / height),
      coreTop: height * (1 - share),
      radius: 0,
      bottom: 0,
    };
    const total = meanCurvature(withFloor(parallelBody(spec)));
    expect(Math.abs(total - 57.318997)).toBeLessThan(57.318997 * share + 5e-7);
  });
});

/** Volume above the face of a round frustum's parallel body whose rounding runs around the rim at the face too. */
function localSteiner(r1: number, r2: number, h: number, g: number): number {
  const draft = Math.atan((r1 - r2) / h);
  const core = ((Math.PI * h) / 3) * (r1 * r1 + r1 * r2 + r2 * r2);
  const skin = Math.PI * r2 * r2 + Math.PI * (r1 + r2) * Math.hypot(h, r1 - r2);
  const edges = Math.PI * (h + r1 * draft + r2 * (Math.PI / 2 - draft));
  return core + skin * g + edges * g ** 2 + ((2 * Math.PI) / 3) * g ** 3;
}

/**
 * What a socket has more than that at its mouth: its sides run straight on to the face. In the section through the
 * axis it is the right triangle of legs g and g tan α less the sector of α, both at the rim, turned around the axis
 * (Pappus): area and moment of each.
 */
function straightMouth(r1: number, draft: number, g: number): number {
  const area = (g ** 2 / 2) * (Math.tan(draft) - draft);
  const triangle = (Math.tan(draft) / 6) * (1 / Math.cos(draft) + Math.cos(draft));
  return 2 * Math.PI * (r1 * area + g ** 3 * (triangle - Math.sin(draft) / 3));
}

describe('the socket of a round tapered peg, above the face', () => {
  const n = 1440;
  const rows: [r1: number, r2: number, h: number, g: number, core: number | null, published: number][] = [
    [3, 2, 5, 0.2, 99.483767, 119.080747],
    [3, 3, 6, 0.15, null, 191.616036],
    [2.5, 2, 4, 0.1, null, 71.062969],
  ];
  for (const [r1, r2, h, g, core, published] of rows) {
    it(`holds ${published} for ${r1} to ${r2}, height ${h}, gap ${g} (local Steiner formula; derived, checked by integration)`, () => {
      expect(localSteiner(r1, r2, h, g)).toBeCloseTo(published, 6);
      if (core !== null) expect(localSteiner(r1, r2, h, 0)).toBeCloseTo(core, 6);
      const draft = Math.atan((r1 - r2) / h);
      const spec = {
        core: { corners: ngonAround(n, r1) },
        draft,
        coreTop: h,
        radius: g,
        bottom: 0,
      };
      const volume = sums(withFloor(parallelBody(spec))).volume;
      // The n-gon's core holds the round one of the same radii and lies in the one greater by 1/cos(π/n); so do
      // the bodies. Facets of the rounding at the top, at most θ each, miss segments of g²(θ − sin θ)/2 of the
      // section, nowhere farther out than R2 + g.
      const out = 1 / Math.cos(Math.PI / n);
      const theta = 2 * Math.acos(1 - CHORD / g);
      const arc = Math.PI / 2 - draft;
      const missed = 2 * Math.PI * (r2 * out + g) * (g ** 2 / 2) * arc * (1 - Math.sin(theta) / theta);
      const low = localSteiner(r1, r2, h, g) + straightMouth(r1, draft, g) - missed;
      const wide = Math.atan(((r1 - r2) * out) / h);
      const high = localSteiner(r1 * out, r2 * out, h, g) + straightMouth(r1 * out, wide, g);
      expect(volume).toBeGreaterThan(low);
      expect(volume).toBeLessThan(high);
      expect(Math.abs(volume - straightMouth(r1, draft, g) - published) / published).toBeLessThan(5e-5);
    });
  }

  for (const [r1, r2, h, g, , published] of rows) {
    it(`holds ${published} as the kind's own body too, ${r1} to ${r2}, height ${h}, gap ${g} (local Steiner formula; derived)`, () => {
      const draft = Math.atan((r1 - r2) / h);
      const { socket } = bodiesOf({
        kind: 'round',
        diameterMm: 2 * r1,
        lengthMm: h,
        draftDeg: (draft * 180) / Math.PI,
        edgeRadiusMm: 0,
        sideGapMm: g,
        endGapMm: g,
      });
      const surface = parallelBody(socket);
      const { volume } = sums(withFloor(surface));
      // Every level section is the n-gon inscribed in the round body's, which has (n/2π) sin(2π/n) of its area: all of
      // its corners lie on the round surface. Up the rounding, facets of θ at the most miss segments of the section
      // of g²(θ − sin θ)/2, nowhere farther out than R2 + g.
      const n = surface.rimCount;
      const share = (n / (2 * Math.PI)) * Math.sin((2 * Math.PI) / n);
      const theta = 2 * Math.acos(1 - CHORD / g);
      const missed =
        2 * Math.PI * (r2 + g) * (g ** 2 / 2) * (Math.PI / 2 - draft) * (1 - Math.sin(theta) / theta);
      const round = published + straightMouth(r1, draft, g);
      // The published figure has six places.
      expect(volume / share).toBeLessThan(round + 1e-6);
      expect(volume / share).toBeGreaterThan(round - missed - 1e-6);
      // The sides of the n-gon lie within the chord of the widest circle: of its area 1 − (2/3)(θ/2)² … is left.
      expect(1 - share).toBeLessThan((4 / 3) * (CHORD / (r1 + g / Math.cos(draft))) * 1.01);
    });
  }

  it('comes nearer to the round one with the square of the corners (n-gon around a circle: n tan(π/n)/π; derived)', () => {
    const volume = (n: number) => {
      const spec = {
        core: { corners: ngonAround(n, 3) },
        draft: 0,
        coreTop: 6,
        radius: 0,
        bottom: 0,
      };
      return sums(withFloor(parallelBody(spec))).volume;
    };
    const exact = 54 * Math.PI;
    for (const n of [32, 64, 128]) {
      const ratio = (volume(n) - exact) / (volume(2 * n) - exact);
      // tan x = x + x³/3 + 2x⁵/15 + …: four, but for 2/5 · 3 x² of it and less.
      const x = Math.PI / n;
      expect(Math.abs(ratio / 4 - 1)).toBeLessThan(x * x);
    }
  });
});

describe('a taper of half angle α', () => {
  const shape = {
    kind: 'taper',
    widthMm: 8,
    heightMm: 6,
    lengthMm: 7,
    edgeRadiusMm: 0.8,
    sideGapMm: 0.1,
    endGapMm: 2.5,
  };
  /** Farthest the body reaches in the unit direction n. */
  const support = (spec: BodySpec, n: readonly [number, number, number]) => {
    const { positions: p } = parallelBody(spec);
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < p.length; i += 3)
      most = Math.max(most, n[0] * p[i] + n[1] * p[i + 1] + n[2] * p[i + 2]);
    return most;
  };

  for (const draftDeg of [0, 2.8624, 6, 15]) {
    it(`shifts sideways by g/cos α at the face, α = ${draftDeg}° (trigonometry; derived)`, () => {
      const draft = (draftDeg * Math.PI) / 180;
      const { peg, socket } = bodiesOf({ ...shape, draftDeg });
      expect(support(peg, [1, 0, 0])).toBeCloseTo(shape.widthMm / 2, 12);
      expect(support(peg, [0, 1, 0])).toBeCloseTo(shape.heightMm / 2, 12);
      expect(support(socket, [1, 0, 0])).toBeCloseTo(shape.widthMm / 2 + 0.1 / Math.cos(draft), 12);
      expect(support(socket, [0, -1, 0])).toBeCloseTo(shape.heightMm / 2 + 0.1 / Math.cos(draft), 12);
    });
  }

  it('1:10 with a gap of 0.1 has 2.0025 of play along its axis, g/sin α (taper 1:x as ISO 3040; derived)', () => {
    const draft = Math.atan(1 / 20);
    const draftDeg = (draft * 180) / Math.PI;
    const sides: [number, number, number][] = [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ].map(([x, y]) => [x * Math.cos(draft), y * Math.cos(draft), Math.sin(draft)]);
    const { peg, socket } = bodiesOf({ ...shape, draftDeg });
    for (const n of sides) {
      // The peg moved along z until its side lies in the socket's.
      const play = (support(socket, n) - support(peg, n)) / n[2];
      expect(play).toBeCloseTo(0.1 / Math.sin(draft), 10);
      expect(play).toBeCloseTo(2.0025, 4);
    }
    // There is room for that: the socket is deeper by the end gap.
    expect(support(socket, [0, 0, 1]) - support(peg, [0, 0, 1])).toBeCloseTo(2.5, 12);
  });
});

describe('cone tapers 1:x', () => {
  for (const [x, published] of [
    [3, 18.92464],
    [5, 11.42119],
    [10, 5.72481],
    [20, 2.86419],
    [50, 1.14588],
  ]) {
    it(`1:${x} has the full angle ${published}° on the body of a round peg (ISO 1119; copy)`, () => {
      const { peg } = bodiesOf({
        kind: 'round',
        diameterMm: 8,
        lengthMm: 9,
        draftDeg: draftOfTaper(x),
        edgeRadiusMm: 0,
        sideGapMm: 0.1,
        endGapMm: 0.3,
      });
      const { positions: p } = parallelBody(peg);
      /** Greatest distance from the axis at that height. */
      const radiusAt = (z: number) => {
        let radius = 0;
        for (let i = 0; i < p.length; i += 3)
          if (Math.abs(p[i + 2] - z) < 1e-9) radius = Math.max(radius, Math.hypot(p[i], p[i + 1]));
        return radius;
      };
      const full = (2 * Math.atan((radiusAt(0) - radiusAt(9)) / 9) * 180) / Math.PI;
      expect(radiusAt(0)).toBeCloseTo(4, 12);
      expect(2 * draftOfTaper(x)).toBeCloseTo(published, 5);
      expect(full).toBeCloseTo(published, 5);
      // The diameter changes by one in x.
      expect((2 * (radiusAt(0) - radiusAt(9))) / 9).toBeCloseTo(1 / x, 12);
    });
  }
});
