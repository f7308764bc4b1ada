import { describe, expect, it } from 'vitest';
import {
  fromPegAxes,
  isSameShape,
  outlinesOf,
  type PegShape,
  patchedShape,
  pegShape,
  reachOf,
} from '../../../app/drawings/peg-shape.ts';
import type { Side, Sizes } from '../../../src/index.ts';
import { onlyHere } from '../../../src/kernel/kernels.ts';
import { loadKernel } from '../../../src/kernel/load.ts';
import { TOLERANCES } from '../../../src/math/tolerances.ts';
import { createEvaluator } from '../../../src/pipeline/evaluate.ts';
import { jobOf, type PegInput, sculptOf } from '../../support/job.ts';
import { box, fanned } from '../../support/simple-solids.ts';

const shape: PegShape = {
  uv: [2, -1],
  pegOn: 'back',
  sizes: {
    kind: 'taper',
    widthMm: 6,
    heightMm: 4,
    lengthMm: 5,
    draftDeg: 0,
    edgeRadiusMm: 0.8,
    spinDeg: 0,
    sideGapMm: 0.2,
    endGapMm: 0.4,
  },
};
const withSizes = (sizes: Sizes): PegShape => patchedShape(shape, { sizes });
const round: PegShape = {
  uv: [2, -1],
  pegOn: 'back',
  sizes: {
    kind: 'round',
    diameterMm: 6,
    lengthMm: 5,
    draftDeg: 0,
    edgeRadiusMm: 0.8,
    sideGapMm: 0.2,
    endGapMm: 0.4,
  },
};

function areaOf(o: Float64Array): number {
  let twice = 0;
  for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) twice += o[j] * o[i + 1] - o[i] * o[j + 1];
  return twice / 2;
}

/** Area of a rounded rectangle. */
const exact = (w: number, h: number, r: number): number => w * h - (4 - Math.PI) * r * r;

/** An outline's area, counter-clockwise, is `mm2` less what chords cut off arcs that add up to a circle of this radius. */
function expectArea(outline: Float64Array, mm2: number, radius: number): void {
  expect(areaOf(outline)).toBeLessThanOrEqual(mm2 + 1e-9);
  expect(areaOf(outline)).toBeGreaterThan(mm2 - 2 * Math.PI * radius * TOLERANCES.jointChord);
}

describe('what a tapered peg covers of its face', () => {
  it('has the area of a rounded rectangle, counter-clockwise', () => {
    expectArea(outlinesOf(shape).peg, exact(6, 4, 0.8), 0.8);
    expectArea(outlinesOf({ ...shape, pegOn: 'front' }).peg, exact(6, 4, 0.8), 0.8);
  });

  it('grows as a parallel curve: sides and corner radius by the same offset', () => {
    expectArea(outlinesOf(shape).socket, exact(6.4, 4.4, 1), 1);
  });

  it('turns counter-clockwise about its middle', () => {
    const quarter = withSizes({ spinDeg: 90 });
    expect(fromPegAxes(quarter, 3, 0)[0]).toBeCloseTo(2, 12);
    expect(fromPegAxes(quarter, 3, 0)[1]).toBeCloseTo(2, 12);
    for (const pegOn of ['back', 'front'] as const) {
      const { peg } = outlinesOf({ ...withSizes({ spinDeg: 30 }), pegOn });
      expectArea(peg, exact(6, 4, 0.8), 0.8);
      const along = (deg: number) => {
        const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
        return Math.max(...pointsOf(peg).map(([x, y]) => c * (x - 2) + s * (y + 1)));
      };
      expect(along(30)).toBeCloseTo(3, 9);
      expect(along(120)).toBeCloseTo(2, 9);
    }
  });

  it('takes no more corner than its smaller side has, and none when there is none', () => {
    const most = 2 - TOLERANCES.coreTipHalf;
    expectArea(outlinesOf(withSizes({ edgeRadiusMm: 9 })).peg, exact(6, 4, most), most);
    expect(reachOf(withSizes({ edgeRadiusMm: 9 })).peg[0]).toBeCloseTo(3, 9);
    expect(reachOf(withSizes({ widthMm: 1, draftDeg: 6 })).peg[0]).toBeCloseTo(0.5, 9);
    const sharp = outlinesOf(withSizes({ edgeRadiusMm: 0 })).peg;
    expect(sharp.length).toBe(8);
    expect(areaOf(sharp)).toBeCloseTo(24, 12);
  });
});

describe('what a round peg covers of its face', () => {
  it('has the area of a circle, and its socket that of one wider by the gap all round', () => {
    expectArea(outlinesOf(round).peg, Math.PI * 9, 3);
    expectArea(outlinesOf(round).socket, Math.PI * 3.2 ** 2, 3.2);
    expect(reachOf(round).peg.map((mm) => mm.toFixed(9))).toEqual(['3.000000000', '3.000000000']);
  });

  it('takes no more edge than it has room for', () => {
    const narrow = patchedShape(round, { sizes: { diameterMm: 1 } });
    expect(reachOf(narrow).peg[0]).toBeCloseTo(0.5, 9);
  });
});

describe('a peg in the frame of its face', () => {
  const frame = { origin: [10, 0, 5], u: [0, 1, 0], v: [0, 0, 1], n: [1, 0, 0] } as const;
  const peg = {
    id: 'a',
    kind: 'taper',
    at: [10, 3, 7],
    widthMm: 6,
    heightMm: 4,
    lengthMm: 5,
    draftDeg: 60,
    edgeRadiusMm: 0.8,
    spinDeg: 0,
    sideGapMm: 0.1,
    endGapMm: 0.4,
  } as const;

  it('stands where its foot is, its socket offset by the gap seen along the face', () => {
    const found = pegShape(peg, frame, 'back');
    expect(found.uv).toEqual([3, 2]);
    const reach = reachOf(found);
    expect(reach.peg[0]).toBeCloseTo(3, 12);
    expect(reach.socket[0] - reach.peg[0]).toBeCloseTo(0.2, 12);
    expect(reach.socket[1] - reach.peg[1]).toBeCloseTo(0.2, 12);
  });

  it('tells a changed size, side or kind from the same one', () => {
    expect(isSameShape(shape, { ...shape, uv: [2 + 1e-7, -1] })).toBe(true);
    expect(isSameShape(shape, withSizes({ heightMm: 4.1 }))).toBe(false);
    expect(isSameShape(shape, { ...shape, pegOn: 'front' })).toBe(false);
    expect(isSameShape(shape, { ...shape, sizes: { ...shape.sizes, kind: 'round' } })).toBe(false);
  });
});

describe('what is drawn ahead of the engine', () => {
  const cases: [string, Side, PegInput][] = [
    ['a tapered peg on the back', 'back', { kind: 'taper', at: [3, -2, 0], heightMm: 4, spinDeg: 25 }],
    ['a tapered peg on the front', 'front', { kind: 'taper', at: [3, -2, 0], heightMm: 4, spinDeg: 25 }],
    ['a round peg on the back', 'back', { kind: 'round', at: [3, -2, 0], diameterMm: 5 }],
    ['a round peg on the front', 'front', { kind: 'round', at: [3, -2, 0], diameterMm: 5 }],
  ];

  it.each(cases)('is what the engine makes: %s', async (_, pegOn, peg) => {
    const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
    const evaluator = createEvaluator(onlyHere(await loadKernel()), sculpt);
    const job = jobOf([{ pegOn, normal: [0.6, 0, 0.8], pegs: [{ ...peg, at: [3.2, -2, -2.4] }] }]);
    const [{ joints, facets }] = (await evaluator.evaluate(job)).evaluation.seams;
    const [{ settled, outlines }] = joints;
    const drawn = outlinesOf(pegShape(settled, facets[0].frame, pegOn));
    for (const { does, outline } of outlines) {
      const ahead = does === 'add' ? drawn.peg : drawn.socket;
      expect(areaOf(ahead)).toBeCloseTo(areaOf(outline), 4);
      for (const [x, y] of pointsOf(ahead)) {
        const off = Math.min(...pointsOf(outline).map(([u, v]) => Math.hypot(x - u, y - v)));
        expect(off).toBeLessThan(1e-4);
      }
    }
  });
});

const pointsOf = (outline: Float64Array): [number, number][] =>
  Array.from({ length: outline.length / 2 }, (_, i) => [outline[i * 2], outline[i * 2 + 1]]);
