import bunny from 'bunny';
import { describe, expect, it } from 'vitest';
import { fitOnBed } from '../../src/check/bed.ts';
import { finding } from '../../src/check/finding.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import { NO_TURN, turned } from '../../src/math/quaternion.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import { boundsOf } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { type Part, partOf } from '../../src/mesh/part/part.ts';
import { withVertices } from '../../src/mesh/part/vertices.ts';
import { inEnglish } from '../support/in-english.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { evenTurn, turnedExcess, turnedSpans } from '../support/turned-excess.ts';

const BED = [140, 85, 170] as const;

const fitOf = (mesh: Mesh, bedMm: Vec3) => fitOnBed(partOf(mesh), boundsOf(mesh), bedMm).fit;
const block = (...size: [number, number, number]) =>
  fanned(box([5, -7, 30], [5 + size[0], size[1] - 7, 30 + size[2]]));

/** A block whose own axes lie anyhow in its file. */
function turnedBlock(size: [number, number, number], seed: number): Mesh {
  const random = makeRandom(seed);
  const { positions, triangles } = block(...size);
  return {
    positions: Float32Array.from(turned(positions, evenTurn(random(), random(), random()))),
    triangles,
  };
}

/** The scan of a rabbit, 120 mm long. */
const rabbit: Mesh = {
  positions: Float32Array.from(bunny.positions.flat(), (v) => v * 12),
  triangles: Uint32Array.from(bunny.cells.flat()),
};

describe('a part on the bed', () => {
  it('stays as it stands where it fits so, if need be by a quarter turn', () => {
    expect(fitOf(block(140, 85, 170), BED)).toMatchObject({
      fits: 'standing',
      turn: NO_TURN,
      up: 'z',
      overMm: 0,
    });
    const spun = fitOf(block(85, 140, 170), BED);
    expect(spun).toMatchObject({ fits: 'standing', up: 'z', overMm: 0, withinMm: 0 });
    expect(turnedExcess(block(85, 140, 170).positions, spun.turn, BED)).toBeCloseTo(0, 4);
  });

  it('is laid on another side of its box before any other turn is sought', () => {
    const fit = fitOf(block(170, 85, 140), BED);
    expect(fit).toMatchObject({ fits: 'turned', up: 'x', overMm: 0, withinMm: 0 });
    expect(turnedExcess(block(170, 85, 140).positions, fit.turn, BED)).toBeCloseTo(0, 4);
  });

  it('leans where it fits in no other way, as a rod along the diagonal', () => {
    const rod = block(210, 4, 4);
    const fit = fitOf(rod, BED);
    expect(fit).toMatchObject({ fits: 'turned', up: null, overMm: 0, withinMm: 0 });
    expect(turnedExcess(rod.positions, fit.turn, BED)).toBeLessThanOrEqual(0.001);
  });

  it('that was turned fits what is a tenth of a millimetre larger than it is, and not what is smaller, seeds from 1', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const mesh = turnedBlock([120, 60, 150], seed);
      const larger = fitOf(mesh, [120.1, 60.1, 150.1]);
      expect(larger.fits).toBe('turned');
      expect(turnedExcess(mesh.positions, larger.turn, [120.1, 60.1, 150.1])).toBeLessThanOrEqual(0.001);
      const smaller = fitOf(mesh, [118, 58, 148]);
      expect(smaller.fits).toBe('not');
      // No turn of a box is less too much for a smaller one than this.
      expect(smaller.overMm).toBeGreaterThan(2 - 1e-4);
      expect(smaller.overMm - smaller.withinMm).toBeLessThan(2 + 1e-4);
      expect(smaller.overMm).toBeLessThan(2.3);
    }
  });

  it('has the bed around it where it is: in the middle across, and its lowest corner on the floor', () => {
    for (const mesh of [
      block(30, 40, 50),
      block(170, 85, 140),
      turnedBlock([120, 60, 150], 3),
      block(300, 20, 20),
    ]) {
      const { turn, middleMm } = fitOf(mesh, BED);
      const spans = turnedSpans(mesh.positions, turn);
      const [x, y, z] = turned(middleMm, turn);
      expect(x).toBeCloseTo((spans[0].low + spans[0].high) / 2, 4);
      expect(y).toBeCloseTo((spans[1].low + spans[1].high) / 2, 4);
      expect(z - BED[2] / 2).toBeCloseTo(spans[2].low, 4);
    }
  });

  it('turns no farther than it must: never by more than a third of the way round', () => {
    for (let seed = 20; seed < 30; seed++) {
      const { turn } = fitOf(turnedBlock([120, 60, 150], seed), [120.1, 60.1, 150.1]);
      // Of four turns alike one has a cosine of half its angle of a half at least.
      expect(turn[3]).toBeGreaterThanOrEqual(0.5 - 1e-9);
    }
  });
});

describe('a scanned figure', () => {
  const { min, max } = boundsOf(rabbit);
  const size = [0, 1, 2].map((k) => max[k] - min[k]);
  const bedOf = (share: number): Vec3 => [size[0] * share, size[1] * share, size[2] * share];

  it.each([0.8, 0.9, 0.95, 0.97, 0.99])(
    'on a bed of %f of its own size is told what no turn contradicts',
    (share) => {
      const bed = bedOf(share);
      const fit = fitOf(rabbit, bed);
      expect(fit.fits).toBe(share < 0.96 ? 'not' : 'turned');
      const judged = turnedExcess(rabbit.positions, fit.turn, bed);
      if (fit.fits === 'turned') expect(judged).toBeLessThanOrEqual(0.001);
      else expect(judged).toBeCloseTo(fit.overMm, 6);
      expect(fit.withinMm).toBeLessThanOrEqual(Math.max(0.1, fit.overMm / 10) + 1e-9);
      const random = makeRandom(40);
      for (let i = 0; i < 60; i++) {
        const turn = evenTurn(random(), random(), random());
        expect(turnedExcess(rabbit.positions, turn, bed)).toBeGreaterThan(fit.overMm - fit.withinMm - 1e-9);
      }
    },
  );
});

describe('a part that another one becomes', () => {
  const skin = turnedBlock([120, 60, 150], 3);
  const bounds = boundsOf(skin);
  const bed = [110, 50, 140] as const;

  /** The same with a small tetrahedron more, its first corner at a place. */
  function withBump(at: Vec3): Part {
    const corners = [0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1].map((v, i) => v + at[i % 3]);
    const first = skin.positions.length / 3;
    return {
      ...withVertices(partOf(skin), Float32Array.from(corners)),
      patches: [
        { of: { kind: 'skin' }, triangles: skin.triangles },
        {
          of: { kind: 'skin' },
          triangles: Uint32Array.of(0, 1, 2, 0, 1, 3, 0, 2, 3, 1, 2, 3).map((v) => v + first),
        },
      ],
    };
  }

  it('is known where it changed within, and sought anew where it sticks out farther', () => {
    const plain = fitOnBed(partOf(skin), bounds, bed).fit;
    const middle: Vec3 = [0, 1, 2].map((k) => (bounds.min[k] + bounds.max[k]) / 2) as unknown as Vec3;
    const within = fitOnBed(withBump(middle), bounds, bed).fit;
    expect(within).toEqual(plain);
    const far: Vec3 = [bounds.max[0] + 60, middle[1], middle[2]];
    const wider = { min: bounds.min, max: [far[0] + 1, bounds.max[1], bounds.max[2]] as Vec3 };
    const bumped = withBump(far);
    const out = fitOnBed(bumped, wider, bed).fit;
    const all = [...skin.positions, ...bumped.added];
    expect(out.overMm).toBeGreaterThan(plain.overMm + 1);
    expect(turnedExcess(all, out.turn, bed)).toBeCloseTo(out.overMm, 6);
    // And back again.
    expect(fitOnBed(partOf(skin), bounds, bed).fit).toEqual(plain);
  });

  it('is sought anew for another bed', () => {
    const other = [100, 50, 140] as const;
    const { overMm, turn } = fitOnBed(partOf(skin), bounds, other).fit;
    expect(turnedExcess(skin.positions, turn, other)).toBeCloseTo(overMm, 6);
  });
});

describe('what is told of a part and the bed', () => {
  const sizeMm = [108, 90, 85.2] as const;
  const facts = {
    part: 'torso',
    sizeMm,
    bedMm: BED,
    turn: NO_TURN,
    up: 'x',
    overMm: 0.2,
    axis: 'y',
  } as const;

  it('has numbers that show it, with by how much and along what', () => {
    expect(inEnglish.finding(finding('part-outgrows-bed', 'warning', { ...facts, withinMm: 0.1 }))).toBe(
      "Part “torso” is 108.0 × 90.0 × 85.2 mm and fits the build volume of 140.0 × 85.0 × 170.0 mm in no turn: at best, with its width (X) upright, it is 0.2 mm too much along the bed's depth (Y), and 0.1 mm less at most in any other turn; move a seam, or add one.",
    );
    const fine = { ...facts, sizeMm: [108, 90, 85.02], overMm: 0.02, withinMm: 0.1 } as const;
    expect(inEnglish.finding(finding('part-outgrows-bed', 'warning', fine))).toMatch(
      /108\.00 × 90\.00 × 85\.02 mm .* in no turn that was found: .* 0\.02 mm too much .* 0\.10 mm less at most/,
    );
    const exact = { ...facts, withinMm: 0.01 };
    expect(inEnglish.finding(finding('part-outgrows-bed', 'warning', exact))).not.toContain('at most');
  });

  it('says how it is turned: by the side that is upright, or about the axes one after the other', () => {
    const lies = (more: object) =>
      inEnglish.finding(finding('part-lies-otherwise', 'info', { ...facts, ...more }));
    expect(lies({})).toContain('it does with its width (X) upright: turn it so');
    const { turn } = fitOf(block(210, 4, 4), BED);
    expect(lies({ up: null, turn })).toMatch(
      /it does turned by [-−\d.]+° about [XY], then [-−\d.]+° about [YZ]/,
    );
    expect(lies({ up: null, turn: [0, 0, Math.sin(0.1), Math.cos(0.1)] })).toContain(
      'turned by 11.46° about Z: turn',
    );
  });
});
