import { describe, expect, it } from 'vitest';
import type { JobFault } from '../../src/errors/job-fault.ts';
import { type ErrorRecord, toErrorRecord } from '../../src/errors.ts';
import { outlineIn } from '../../src/model/joint.ts';
import { readJob } from '../../src/pipeline/read-job.ts';
import { jobText, seam } from '../support/cli-folder.ts';
import { inEnglish } from '../support/in-english.ts';

const resin = { name: 'resin', sideGapMm: 0.1, endGapMm: 0.4, minWallMm: 1, bedMm: [9, 9, 9] };

const withSculpt = (sculpt: Record<string, unknown>) =>
  readJob('a.json', JSON.parse(jobText({ sculpt: { file: 'a.stl', ...sculpt } })));

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

/** A job with one thing wrong, where that is, and what. */
const WRONG: [change: Record<string, unknown>, where: string, fault: JobFault][] = [
  [{ process: undefined }, 'process', { is: 'missing' }],
  [{ seams: 'none' }, 'seams', { is: 'type', wanted: 'list' }],
  [{ sculpt: { file: 7 } }, 'sculpt.file', { is: 'type', wanted: 'text' }],
  [{ sculpt: { file: '' } }, 'sculpt.file', { is: 'too-short', limit: 1, counted: 'letters' }],
  [{ sculpt: { file: 'a', scale: -1 } }, 'sculpt.scale', { is: 'below', limit: 1e-6, isIncluded: true }],
  [{ sculpt: { file: 'a', scale: 1e9 } }, 'sculpt.scale', { is: 'above', limit: 1e6, isIncluded: true }],
  [
    { process: { ...resin, bedMm: [1, 0, 1] } },
    'process.bedMm.1',
    { is: 'below', limit: 0, isIncluded: false },
  ],
  [
    { process: { ...resin, bedMm: [1, 1] } },
    'process.bedMm',
    { is: 'too-short', limit: 3, counted: 'entries' },
  ],
  [
    { process: { ...resin, name: 'x'.repeat(81) } },
    'process.name',
    { is: 'too-long', limit: 80, counted: 'letters' },
  ],
  [{ format: 'list' }, 'format', { is: 'value', known: ['pegwright-job'] }],
  [{ seams: [seam({ pegOn: 'top' })] }, 'seams.0.pegOn', { is: 'value', known: ['front', 'back'] }],
  [
    { sculpt: { file: 'a', mend: [{ do: 'polish' }] } },
    'sculpt.mend.0.do',
    { is: 'value', known: ['weld', 'fill-holes', 'drop-specks', 'unite', 're-skin'] },
  ],
  [{ colour: 'red' }, '', { is: 'keys-unknown', keys: ['colour'] }],
  [{ sculpt: { file: 'a', turn: [1, 1, 1, 1] } }, 'sculpt.turn', { is: 'no-turn' }],
  [{ seams: [seam(), seam()] }, 'seams', { is: 'id-shared' }],
];

describe('a joint’s own outline', () => {
  const outlineOf = (outlineMm: unknown, kind = 'outline') => {
    const text = jobText({ seams: [seam({ pegs: [{ kind, at: 'auto', outlineMm }] })] });
    return outlineIn(readJob('a.json', JSON.parse(text)).seams[0]!.joints[0]!);
  };
  const L = [
    [-2, 3],
    [0, 3],
    [0, -1],
    [2, -1],
    [2, -3],
    [-2, -3],
  ];

  it('is corners, or the data of an SVG path, which is corners from then on', () => {
    expect(outlineOf(L)).toEqual(L);
    expect(outlineOf('M0 0h2v4h2v2H0Z')).toEqual(L);
  });

  it.each([
    [L.slice(0, 2), { is: 'too-few', corners: 2, limit: 3 }],
    [
      Array.from({ length: 501 }, (_, k) => [Math.cos(k / 80), Math.sin(k / 80)]),
      { is: 'too-many', corners: 501, limit: 500 },
    ],
    [
      [
        [0, 0],
        [4, 4],
        [4, 0],
        [0, 4],
      ],
      { is: 'crossed' },
    ],
    [
      [
        [0, 0],
        [4, 0],
        [2, 0],
        [2, 4],
      ],
      { is: 'crossed' },
    ],
    ['M0 0h4v4z M9 9h4v4z', { is: 'several', count: 2 }],
    ['a heart', { is: 'path', at: 1 }],
  ])('is refused by what is wrong with it: %#', (outline, why) => {
    const told = refusalOf(() => outlineOf(outline));
    expect(told.facts).toMatchObject({ where: 'seams.0.pegs.0.outlineMm', fault: { is: 'outline', why } });
    expect(inEnglish.refusal(told)).toMatch(
      /^a\.json: the job is not valid at .+ \([^()]{10,}\); correct that field\.$/,
    );
  });

  it('is only of the kind that asks for it', () => {
    expect(refusalOf(() => outlineOf(L, 'bar')).facts).toMatchObject({
      fault: { is: 'keys-unknown', keys: ['outlineMm'] },
    });
  });
});

describe('what is wrong with a job', () => {
  it.each(WRONG)('is told by the field and a code: %j', (change, where, fault) => {
    const json = { ...JSON.parse(jobText()), ...change };
    expect(() => readJob('a.json', json)).toThrow(
      expect.objectContaining({ code: 'job-invalid', facts: { file: 'a.json', where, fault } }),
    );
    const said = inEnglish.refusal({ code: 'job-invalid', facts: { file: 'a.json', where, fault } });
    expect(said).toMatch(/^a\.json: the job is not valid at .+ \(.{10,}\); correct that field\.$/);
    expect(said).not.toMatch(/undefined|NaN|\[object/);
  });

  it('is, of a field that may have several types, what each of them has against it', () => {
    const pegs = (at: unknown) => jobText({ seams: [seam({ pegs: [{ kind: 'taper', at }] })] });
    const wrong = (at: unknown) => () => readJob('a.json', JSON.parse(pegs(at)));
    const { facts } = refusalOf(wrong('here'));
    expect(facts).toMatchObject({
      where: 'seams.0.pegs.0.at',
      fault: { is: 'none-of', each: { length: 2 } },
    });
    expect(inEnglish.refusal({ code: 'job-invalid', facts } as ErrorRecord)).toMatch(
      /it should be a list, or it should be “auto”/,
    );
    expect(refusalOf(wrong(undefined)).facts).toMatchObject({ fault: { is: 'missing' } });
  });
});

function refusalOf(work: () => unknown): ErrorRecord {
  try {
    work();
  } catch (thrown) {
    return toErrorRecord(thrown);
  }
  throw new Error('nothing was refused');
}
