import { describe, expect, it } from 'vitest';
import {
  type BenchState,
  type Derived,
  initialState,
  jobOf,
  refusalOf,
  staleness,
} from '../../../app/state/bench-state.ts';
import { beginGesture, edit, undo } from '../../../app/state/history.ts';
import { setPlane } from '../../../app/state/job-edits.ts';
import { namesIn } from '../../../app/ui/names.ts';
import { words } from '../../../app/words.ts';
import { demoJob, type EvaluationView, type SculptSummary } from '../../../src/index.ts';
import { inEnglish } from '../../support/in-english.ts';
import { planeOf } from '../../support/plane-of.ts';

const [seam] = demoJob.seams;
const moved = setPlane(demoJob, seam.id, { ...planeOf(seam), offsetMm: 9999 });
const said = { code: 'seam-misses', facts: { seamId: seam.id } } as const;
const message = { tone: 'error', said, job: moved, aboutJob: true } as const;

/** A bench whose parts are those of the demo's job, after an edit. */
function edited(derived: Partial<Derived> = {}): BenchState {
  const state = initialState(demoJob, 'system');
  return {
    ...state,
    saved: {
      ...state.saved,
      history: edit(state.saved.history, { ...state.saved.history.present, job: moved }),
    },
    derived: {
      ...state.derived,
      summary: { solid: true } as SculptSummary,
      openedAs: demoJob.sculpt,
      openedFiles: state.saved.history.present.files,
      view: { findings: [] } as unknown as EvaluationView,
      viewJob: demoJob,
      ...derived,
    },
  };
}
const withHistory = (state: BenchState, change: typeof undo): BenchState => ({
  ...state,
  saved: { ...state.saved, history: change(state.saved.history) },
});

describe('what is shown', () => {
  it('is of the job until an edit, and after undo', () => {
    expect(staleness(edited())).toBe('waiting');
    expect(staleness(withHistory(edited(), undo))).toBeNull();
    expect(staleness(edited({ viewJob: moved }))).toBeNull();
  });

  it('is an earlier result while work is told of, and not for the moment an edit takes or a hand is at it', () => {
    const busy = { what: 'evaluating', step: null, done: null } as const;
    expect(staleness(edited({ busy }))).toBe('working');
    expect(staleness(edited({ busy: { ...busy, isBrief: true } }))).toBeNull();
    expect(staleness(edited({ busy: { ...busy, what: 'exporting' } }))).toBe('waiting');
    expect(staleness(withHistory(edited(), beginGesture))).toBeNull();
  });

  it('is an earlier result where the job is refused, until it is another job', () => {
    const state = edited();
    const refused = edited({ refusal: { job: jobOf(state), message } });
    expect(staleness(refused)).toBe('refused');
    expect(refusalOf(refused)).toEqual(message);
    const before = withHistory(refused, undo);
    expect(staleness(before)).toBeNull();
    expect(refusalOf(before)).toBeNull();
  });

  it('is nothing of the kind while there is no result, or none is to come', () => {
    expect(staleness(edited({ view: null }))).toBeNull();
    expect(staleness(edited({ summary: { solid: false } as SculptSummary }))).toBeNull();
  });

  it('is an earlier result where the sculpt is taken otherwise', () => {
    const otherwise = { ...demoJob.sculpt, scale: 2 };
    expect(staleness(withHistory(edited({ openedAs: otherwise }), undo))).toBe('waiting');
  });
});

describe('the words at rest', () => {
  it('say what was proved, why not, and never that parts with errors are sound', () => {
    expect(words.readyWith(0, null)).toBe('Ready');
    expect(words.readyWith(0, 'proved')).toBe('Ready, parts proved sound');
    expect(words.readyWith(1, null)).toBe('1 error among the findings');
    expect(words.readyWith(2, 'proved')).toBe('2 errors among the findings, parts proved closed solids');
    const told = (['proved', 'too-big', 'overlaps', 'not-loaded', 'crashed', 'timed-out'] as const).map(
      (how) => words.readyWith(0, how),
    );
    expect(new Set(told).size).toBe(6);
    expect(words.readyWith(0, 'not-loaded')).toMatch(/could not be loaded.*connect/);
    expect(told.filter((line) => line.includes('too big'))).toHaveLength(1);
  });
});

describe('names in sentences', () => {
  const names = namesIn(demoJob);
  const { front, back } = seam.names;

  it('are those of the list, not the ids within', () => {
    const title = `${front} / ${back}`;
    const facts = { seamId: seam.id };
    expect(inEnglish.refusal({ code: 'seam-misses', facts }, names)).toContain(`“${title}”`);
    expect(
      inEnglish.refusal(
        {
          code: 'seam-part-unknown',
          facts: {
            seamId: 'other',
            of: `${seam.id}.front`,
            dividedBy: seam.id,
            parts: [{ id: `${seam.id}.back`, name: back }],
          },
        },
        names,
      ),
    ).toMatch(new RegExp(`“${front}”, which seam “${title}” has divided .*: “${back}”\\.$`));
    const crossing = { otherSeam: seam.id, overlapMm3: 1 };
    expect(
      inEnglish.finding({ code: 'joint-crosses-seam', severity: 'error', facts: crossing }, names),
    ).toContain(`“${title}”`);
    for (const code of ['pegs-too-close', 'socket-breaks-skin', 'wall-thin'] as const) {
      const found = {
        code,
        severity: 'error',
        facts: { otherSeam: seam.id, otherPeg: 0, wallMm: 0.1, minWallMm: 1 },
      } as const;
      expect(inEnglish.finding(found, names), code).toContain(`“${title}”`);
    }
  });

  it('are ids where no seam has that id', () => {
    expect(names.seam('gone')).toBe('gone');
    expect(names.part('gone.front')).toBe('gone.front');
    expect(names.part('sculpt')).toBe('sculpt');
  });
});
