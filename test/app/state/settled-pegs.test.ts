import { describe, expect, it } from 'vitest';
import { settledPegs } from '../../../app/state/settled-pegs.ts';
import { type PegResult, PROCESSES, type SeamResult } from '../../../src/index.ts';

const { process } = PROCESSES[0];
const settled = {
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
const results = (...indices: number[]) =>
  ({ pegs: indices.map((index) => ({ index, peg: settled }) as unknown as PegResult) }) as SeamResult;

describe('settled pegs', () => {
  it('take what the job says now over what was settled before', () => {
    const [peg] = settledPegs([{ kind: 'taper', at: [4, 4, 4], widthMm: 7 }], results(0), process);
    expect(peg).toEqual({
      ...settled,
      at: [4, 4, 4],
      widthMm: 7,
      sideGapMm: process.sideGapMm,
      endGapMm: process.endGapMm,
    });
  });

  it('take the engine’s place for an automatic peg', () => {
    expect(settledPegs([{ kind: 'taper', at: 'auto' }], results(0), process)[0]?.at).toEqual([1, 2, 3]);
  });

  it('are unknown for a peg the engine has not answered for', () => {
    const auto = { kind: 'taper', at: 'auto' } as const;
    expect(settledPegs([auto, auto], results(0), process)[1]).toBeNull();
  });

  it('are unknown while indices may have shifted', () => {
    expect(settledPegs([{ kind: 'taper', at: 'auto' }], results(0, 1), process)).toEqual([null]);
  });
});
