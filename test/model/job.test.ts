import { describe, expect, it } from 'vitest';
import { parseJob } from '../../src/model/job.ts';
import { jobText } from '../support/cli-folder.ts';

const withSculpt = (sculpt: Record<string, unknown>) =>
  parseJob('a.json', JSON.parse(jobText({ sculpt: { file: 'a.stl', ...sculpt } })));

describe('what a job says of its sculpt', () => {
  it('may leave unit, turn and mending out', () => {
    expect(withSculpt({}).sculpt).toEqual({ file: 'a.stl', scale: 1 });
  });

  it('keeps a turn and mending steps in order', () => {
    const turn = [0.6, 0, 0, 0.8];
    const mend = [
      { do: 'weld', toleranceMm: 0.05 },
      { do: 'drop-specks', belowMm: 1 },
      { do: 'fill-holes', how: 'smooth' },
      { do: 'unite' },
    ];
    expect(withSculpt({ turn, mend }).sculpt).toMatchObject({ turn, mend });
  });

  for (const [what, sculpt, where] of [
    ['a turn that is none', { turn: [0, 0, 0, 0] }, 'sculpt.turn'],
    ['a turn of three numbers', { turn: [0, 0, 1] }, 'sculpt.turn'],
    ['a step nobody knows', { mend: [{ do: 'polish' }] }, 'sculpt.mend.0.do'],
    ['a step without its number', { mend: [{ do: 'unite' }, { do: 'weld' }] }, 'sculpt.mend.1.toleranceMm'],
    ['a fill of a third kind', { mend: [{ do: 'fill-holes', how: 'round' }] }, 'sculpt.mend.0.how'],
    ['a field too many', { mend: [{ do: 'unite', also: 1 }] }, 'sculpt.mend.0'],
  ] as const) {
    it(`refuses ${what}`, () => {
      expect(() => withSculpt(sculpt)).toThrow(
        expect.objectContaining({ code: 'job-invalid', facts: expect.objectContaining({ where }) }),
      );
    });
  }
});
