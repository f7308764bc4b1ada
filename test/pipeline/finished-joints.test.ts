import { describe, expect, it } from 'vitest';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { jobOf, pegWith, type SeamInput } from '../support/job.ts';
import { box, fanned, together } from '../support/simple-solids.ts';
import { codesOf, evaluated, foundIn } from '../support/told-codes.ts';

const made = (figure: Mesh, seams: readonly SeamInput[], process = {}) =>
  evaluated(figure, jobOf(seams, process));

const block = fanned(box([-40, -30, -25], [40, 30, 25.1]));
/** A straight peg whose socket ends `mm` before the top of the block. */
const below = (mm: number): SeamInput[] => [
  {
    offsetMm: 0.3,
    pegs: [
      pegWith({
        at: [0, 0, 0.3],
        widthMm: 14,
        heightMm: 10,
        lengthMm: 24.4 - mm,
        draftDeg: 0,
        edgeRadiusMm: 0.8,
      }),
    ],
  },
];

describe('a socket that ends at the skin', () => {
  it('breaks through it within a stated tolerance, on whatever side of it rounding falls', async () => {
    const outcomes = [];
    for (const mm of [0.009, 1e-4, 1e-6, 0, -1e-6, -1e-4, -0.5]) {
      const done = await made(block, below(mm));
      outcomes.push(foundIn(done, 'socket-breaks-skin').map(({ severity }) => severity));
    }
    expect(outcomes).toEqual(outcomes.map(() => ['error']));
    const thin = await made(block, below(2 * TOLERANCES.noWall));
    expect(codesOf(thin)).not.toContain('socket-breaks-skin');
    expect(foundIn(thin, 'wall-thin')[0].facts.wallMm).toBeCloseTo(2 * TOLERANCES.noWall, 4);
  });

  it('breaks through it with its side as well', async () => {
    for (const mm of [0.008, 1e-6, 0, -1e-6]) {
      const [x, widthMm] = [30, 2 * (10 - 0.12 - mm)];
      const pegs = [pegWith({ at: [x, 0, 0], widthMm, draftDeg: 0, heightMm: 6 })];
      const codes = codesOf(await made(block, [{ pegs }]));
      expect(codes.filter((code) => code === 'socket-breaks-skin' || code === 'peg-off-face')).toHaveLength(
        1,
      );
    }
  });

  it('breaks into a hollow that it swallows whole', async () => {
    const bubble = fanned(box([-0.5, -0.5, 2.5], [0.5, 0.5, 3.5]));
    const hollow = together(block, { ...bubble, triangles: bubble.triangles.toReversed() });
    const done = await made(hollow, [{ pegs: [pegWith({ widthMm: 8, heightMm: 8 })] }]);
    expect(codesOf(done)).toContain('socket-breaks-skin');
  });
});

describe('the wall of a socket', () => {
  it('is measured to its neighbour of the same seam', async () => {
    const pair = (apart: number) => [
      {
        pegs: [
          pegWith({ at: [0, 0, 0], draftDeg: 0 }),
          pegWith({ at: [6 + 2 * 0.12 + apart, 0, 0], draftDeg: 0 }),
        ],
      },
    ];
    const close = await made(block, pair(0.06));
    expect(foundIn(close, 'wall-thin').map(({ facts, pegIndex }) => [pegIndex, facts])).toEqual([
      [0, { wallMm: expect.closeTo(0.06, 4), minWallMm: 1.2, otherSeam: 'neck', otherPeg: 1 }],
      [1, { wallMm: expect.closeTo(0.06, 4), minWallMm: 1.2, otherSeam: 'neck', otherPeg: 0 }],
    ]);
    expect(close.evaluation.seams[0].joints.map(({ wallMm }) => wallMm.min)).toEqual([
      expect.closeTo(0.06, 4),
      expect.closeTo(0.06, 4),
    ]);
    expect(codesOf(await made(block, pair(1.21)))).not.toContain('wall-thin');
    expect(codesOf(await made(block, pair(0.009)))).toContain('pegs-too-close');
  });

  it('is measured to a socket, a peg and the face of another seam in its part', async () => {
    const second = (seam: SeamInput): SeamInput => ({ id: 'second', of: 'neck.front', ...seam });
    const first: SeamInput = { pegs: [pegWith({ lengthMm: 6, draftDeg: 0 })] };
    // The first socket ends at 6.4; the second seam's face lies 0.5 mm over it.
    const face = await made(block, [first, second({ offsetMm: 6.9, pegs: [pegWith({ at: [20, 0, 6.9] })] })]);
    expect(foundIn(face, 'wall-thin').map(({ facts }) => facts)).toContainEqual({
      wallMm: expect.closeTo(0.5, 4),
      minWallMm: 1.2,
      otherSeam: 'second',
    });
    // A socket of the second comes down to 0.5 mm over it.
    const down = {
      offsetMm: 13.3,
      pegOn: 'front' as const,
      pegs: [pegWith({ at: [0, 0, 13.3], lengthMm: 6, draftDeg: 0 })],
    };
    const socket = await made(block, [first, second(down)]);
    expect(
      foundIn(socket, 'wall-thin').map(({ seamId, facts }) => [seamId, facts.otherSeam, facts.otherPeg]),
    ).toEqual([
      ['neck', 'second', 0],
      ['second', 'neck', 0],
    ]);
    // Under a peg of the second the material goes on: nothing is thin there.
    const up = { offsetMm: 6.9, pegs: [pegWith({ at: [0, 0, 6.9], widthMm: 14, heightMm: 14 })] };
    expect(codesOf(await made(block, [first, second(up)]))).not.toContain('wall-thin');
  });
});

describe('a joint that another seam runs through', () => {
  const peg = pegWith({ widthMm: 10, heightMm: 8, lengthMm: 12, draftDeg: 0, edgeRadiusMm: 0.05 });

  it('is told with both seams and how much of the peg is in the way', async () => {
    const later = await made(block, [
      { pegs: [peg] },
      { id: 'later', of: 'neck.front', normal: [1, 0, 0], offsetMm: 2, pegs: [] },
    ]);
    const [crossing] = foundIn(later, 'joint-crosses-seam');
    expect(crossing).toMatchObject({
      severity: 'error',
      seamId: 'neck',
      pegIndex: 0,
      facts: { otherSeam: 'later' },
    });
    // Of the straight peg 3 × 8 × 12 mm lie beyond x = 2, less its rounded edges.
    expect(crossing.facts.overlapMm3).toBeGreaterThan(3 * 8 * 12 - 0.5);
    expect(crossing.facts.overlapMm3).toBeLessThanOrEqual(3 * 8 * 12);
    expect(codesOf(later)).not.toContain('peg-off-face');

    const above = await made(block, [
      { pegs: [peg] },
      { id: 'later', of: 'neck.front', offsetMm: 9, pegs: [] },
    ]);
    expect(foundIn(above, 'joint-crosses-seam')[0].facts.overlapMm3).toBeCloseTo(3 * 10 * 8, -1);
  });

  it('is told of an earlier seam that it reaches through, and of one that divides the face it stands on', async () => {
    const earlier = await made(block, [
      { id: 'first', offsetMm: 8, pegs: [] },
      { id: 'low', of: 'first.back', offsetMm: 0, pegs: [peg] },
    ]);
    expect(foundIn(earlier, 'joint-crosses-seam')[0]).toMatchObject({
      seamId: 'low',
      facts: { otherSeam: 'first' },
    });
    const under = await made(block, [
      { pegs: [peg] },
      { id: 'later', of: 'neck.back', normal: [1, 0, 0], offsetMm: 2, pegs: [] },
    ]);
    expect(foundIn(under, 'joint-crosses-seam')[0].facts).toEqual({ otherSeam: 'later', overlapMm3: 0 });
  });

  it('is nothing where the other seam runs clear of it', async () => {
    for (const seam of [
      { of: 'neck.front', normal: [1, 0, 0] as const, offsetMm: 8 },
      { of: 'neck.front', offsetMm: 14 },
      { of: 'neck.back', offsetMm: -5 },
    ]) {
      const clear = await made(block, [{ pegs: [peg] }, { id: 'later', pegs: [], ...seam }]);
      const { findings } = clear.evaluation;
      expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(codesOf(clear)).not.toContain('wall-thin');
    }
  });
});

describe('the gap', () => {
  /** Sides so drafted that the end of the longer socket falls back from the peg's by more than the tolerance. */
  const steep = { draftDeg: 28, widthMm: 14, heightMm: 12, lengthMm: 3, sideGapMm: 0.15, endGapMm: 1 };

  it('is checked of a joint by the collar as of a local one', async () => {
    const ways = [];
    for (const roof of [10, 3 + 1 + 0.015]) {
      const done = await made(fanned(box([-40, -30, -25], [40, 30, roof])), [{ pegs: [pegWith(steep)] }]);
      ways.push(done.evaluation.seams[0].joints[0].way);
      const [gap] = foundIn(done, 'gap-not-met');
      expect([gap.severity, gap.facts.which]).toEqual(['error', 'side']);
      expect(gap.facts.measuredMm).toBeCloseTo(0.173, 3);
      expect(codesOf(done)).not.toContain('socket-breaks-skin');
    }
    expect(ways).toEqual(['local', 'collar']);
  });

  it('says so where a joint has nothing left of it to measure', async () => {
    // The whole socket lies within another's.
    const done = await made(block, [
      {
        pegs: [
          pegWith({ widthMm: 12, heightMm: 12, lengthMm: 12 }),
          pegWith({ widthMm: 4, heightMm: 4, lengthMm: 4 }),
        ],
      },
    ]);
    const [seam] = done.evaluation.seams;
    expect(seam.joints).toHaveLength(2);
    expect(seam.joints[1].sideGapMm).toBeNull();
    expect(codesOf(done)).toEqual(expect.arrayContaining(['pegs-too-close', 'gap-unmeasured']));
  });
});

describe('the balance of volumes', () => {
  it('is told whatever else is', async () => {
    const off = await made(block, [{ pegs: [pegWith({ at: [38, 0, 0] })] }]);
    expect(off.evaluation.seams[0].joints[0].faceWall?.mm).toBe(0);
    expect(codesOf(off)).toEqual(expect.arrayContaining(['peg-off-face', 'volume-unbalanced']));
  });
});
