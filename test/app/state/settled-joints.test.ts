import { describe, expect, it } from 'vitest';
import { settledJoints } from '../../../app/state/settled-joints.ts';
import { type JointResult, PROCESSES } from '../../../src/index.ts';

const { process } = PROCESSES[0];
const settled = {
  id: 'a',
  kind: 'taper',
  at: [1, 2, 3],
  widthMm: 6,
  heightMm: 5,
  lengthMm: 6,
  draftDeg: 6,
  edgeRadiusMm: 0.8,
  spinDeg: 0,
  sideGapMm: 9,
  endGapMm: 9,
} as const;
const results = (...ids: string[]) =>
  ids.map((id, index) => ({
    index,
    settled: { ...settled, id, lengthMm: 6 + index },
  })) as unknown as JointResult[];
const auto = (id: string) => ({ id, kind: 'taper', at: 'auto' }) as const;

describe('settled joints', () => {
  it('take what the job says now over what was settled before', () => {
    const asked = { id: 'a', kind: 'taper', at: [4, 4, 4], widthMm: 7 } as const;
    const [joint] = settledJoints([asked], results('a'), process);
    expect(joint).toEqual({
      id: 'a',
      settled: {
        ...settled,
        at: [4, 4, 4],
        widthMm: 7,
        sideGapMm: process.sideGapMm,
        endGapMm: process.endGapMm,
      },
    });
  });

  it('take the engine’s place for an automatic joint', () => {
    expect(settledJoints([auto('a')], results('a'), process)[0].settled?.at).toEqual([1, 2, 3]);
  });

  it('are unknown for a joint the engine has not answered for', () => {
    expect(settledJoints([auto('a'), auto('b')], results('a'), process)[1]).toEqual({
      id: 'b',
      settled: null,
    });
  });

  it('are each its own where others came or went before it', () => {
    expect(settledJoints([auto('b')], results('a', 'b'), process)[0].settled?.lengthMm).toBe(7);
    expect(settledJoints([auto('c'), auto('a')], results('a'), process)).toMatchObject([
      { id: 'c', settled: null },
      { id: 'a', settled: { lengthMm: 6 } },
    ]);
  });

  it('are unknown while the engine has settled another kind', () => {
    expect(settledJoints([{ ...auto('a'), kind: 'round' }], results('a'), process)).toEqual([
      { id: 'a', settled: null },
    ]);
  });
});
