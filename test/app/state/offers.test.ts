import { describe, expect, it } from 'vitest';
import { initialState, jobOf } from '../../../app/state/bench-state.ts';
import { startHistory } from '../../../app/state/history.ts';
import { removeSeam } from '../../../app/state/job-edits.ts';
import { freshJob, middleSeam } from '../../../app/state/new-seam.ts';
import { offersOf, withJoined } from '../../../app/state/offers.ts';
import { treeOf } from '../../../app/state/parts.ts';
import { type Job, PROCESSES, type SculptSummary, type TouchingBodies } from '../../../src/index.ts';

const boundsMm = { min: [-20, -15, -18], max: [20, 15, 30] } as const;
const names = ['stand', 'post', 'shade'];
const solids = names.map((name) => ({ id: `body:${name}`, name, named: name, boundsMm }));
const touching: TouchingBodies[] = [
  { front: 'body:post', back: 'body:stand', areaMm2: 320, curved: false, overlap: false },
  { front: 'body:shade', back: 'body:post', areaMm2: 90, curved: false, overlap: false },
];

/** A bench with three bodies of which two pairs touch, and this job. */
function bench(change: (job: Job) => Job = (job) => job) {
  const job = change(freshJob({ file: 'lamp.obj', unit: 'mm', scale: 1 }, boundsMm, PROCESSES[0].process));
  const state = initialState(job, 'light');
  const summary = { boundsMm, solids, solid: true } as unknown as SculptSummary;
  return { ...state, derived: { ...state.derived, summary, touching } };
}

const having = (state: ReturnType<typeof bench>, job: Job) => ({
  ...state,
  saved: { ...state.saved, history: startHistory({ job, files: [] }) },
});

const pairsOf = (state: ReturnType<typeof bench>) =>
  offersOf(state).map(({ names: { front, back } }) => [front, back]);

describe('bodies that touch', () => {
  it('are offered by their names, and joined in place of the seam a new figure comes with', () => {
    const state = bench();
    expect(pairsOf(state)).toEqual([
      ['post', 'stand'],
      ['shade', 'post'],
    ]);
    const joined = withJoined(state, offersOf(state)[0]);
    expect(joined?.job.seams).toEqual([joined?.seam]);
    expect(joined?.seam).toMatchObject({
      by: { kind: 'contact', bodies: ['post', 'stand'] },
      names: { front: 'post', back: 'stand' },
      joints: [{ at: 'auto' }],
    });
  });

  it('come without a peg where they overlap: they may meet on nothing flat', () => {
    const state = bench();
    const joined = withJoined(state, { ...offersOf(state)[0], overlap: true });
    expect(joined?.seam.joints).toEqual([]);
  });

  it('are offered until they are joined; one may be joined to several', () => {
    let state = bench();
    state = having(state, withJoined(state, offersOf(state)[0])?.job as Job);
    expect(pairsOf(state)).toEqual([['shade', 'post']]);
    state = having(state, withJoined(state, offersOf(state)[0])?.job as Job);
    expect(pairsOf(state)).toEqual([]);
    expect(jobOf(state).seams.map(({ id }) => id)).toEqual(['seam 1', 'seam 2']);
  });

  it('are not offered again under other names', () => {
    for (const bodies of [
      ['stand', 'post'],
      ['2', '1'],
      ['body:post', '1'],
    ] as const) {
      const joined = bench((job) => ({
        ...job,
        seams: [{ ...job.seams[0], by: { kind: 'contact', bodies } }],
      }));
      expect(pairsOf(joined)).toEqual([['shade', 'post']]);
    }
  });

  it('are not offered where the figure is divided as a whole by somebody, or one of them is', () => {
    const moved = bench((job) => ({
      ...job,
      seams: job.seams.map((seam) => ({ ...seam, names: { front: 'lid', back: 'box' } })),
    }));
    expect(pairsOf(moved)).toEqual([]);
    const divided = bench((job) => ({ ...job, seams: [middleSeam('body:post', boundsMm, [])] }));
    expect(pairsOf(divided)).toEqual([]);
  });

  it('are offered again when their seam is removed, and what divided a part of it waits', () => {
    let state = bench();
    const { job, seam } = withJoined(state, offersOf(state)[0]) as { job: Job; seam: Job['seams'][0] };
    const half = middleSeam(`${seam.id}.front`, boundsMm, [seam.id], 'post');
    const more = { ...job, seams: [...job.seams, half] };
    const again = {
      ...seam,
      id: 'again',
      by: { kind: 'contact' as const, bodies: [`${half.id}.back`, 'shade'] as const },
    };
    state = having(state, { ...more, seams: [...more.seams, again] });
    expect(pairsOf(state)).toEqual([]);
    state = having(state, removeSeam(jobOf(state), seam.id));
    expect(treeOf(state).astray.map(({ id }) => id)).toEqual([half.id, 'again']);
    expect(pairsOf(state).length).toBe(2);
  });
});
