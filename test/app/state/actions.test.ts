import { describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { createActions } from '../../../app/state/actions.ts';
import { type BenchState, initialState, jobOf } from '../../../app/state/bench-state.ts';
import { setPlane } from '../../../app/state/job-edits.ts';
import type { EnginePort, Shelf } from '../../../app/state/ports.ts';
import {
  type DisplayMesh,
  demoJob,
  type EvaluationView,
  type Job,
  type SculptSummary,
} from '../../../src/index.ts';

const mesh: DisplayMesh = {
  positions: new Float32Array(0),
  triangles: new Uint32Array(0),
  normals: new Float32Array(0),
};
const summaryOf = (file: string): SculptSummary => ({
  file,
  format: 'stl',
  unit: 'mm',
  triangles: 4,
  vertices: 4,
  shells: 1,
  boundsMm: { min: [0, 0, 0], max: [10, 10, 100] },
  volumeMm3: 1,
  areaMm2: 1,
  originMm: [0, 0, 0],
  findings: [],
  repairs: [],
  bodies: [],
});
const emptyView: EvaluationView = {
  parts: [],
  seams: [],
  volume: { sculptMm3: 1, partsMm3: 1, pegsMm3: 0, socketsMm3: 0, residualMm3: 0 },
  findings: [],
  timingsMs: { cut: 0, joint: 0, check: 0 },
  contours: {},
  section: null,
};
const seamId = demoJob.seams[0].id;
const offsetTo = (offsetMm: number) => (job: Job) =>
  setPlane(job, seamId, { ...job.seams[0].plane, offsetMm });
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

/** A bench over an engine that answers when the test lets it, and a shelf in memory. */
function bench(kept: Awaited<ReturnType<Shelf['load']>> | Error = null) {
  const store = createStore<BenchState>(() => initialState(demoJob, 'system'));
  const asked: { job: Job; answer(view: EvaluationView): void; refuse(error: unknown): void }[] = [];
  const saved: Job[] = [];
  let crash = () => {};
  const engine: EnginePort = {
    async open(_file, name, { unit }) {
      if (name.startsWith('bad')) throw { code: 'file-empty', facts: { file: name } };
      const declared = name.endsWith('.3mf') ? 'inch' : 'mm';
      return { summary: { ...summaryOf(name), unit: unit ?? declared }, mesh };
    },
    evaluate: (job) => new Promise((answer, refuse) => asked.push({ job, answer, refuse })),
    outline: async () => 'superseded',
    prove: async () => true,
    export: async () => ({ name: 'figure-parts.zip', file: new Blob() }),
    cancel: () => {},
    onCrash: (listener) => {
      crash = listener;
    },
  };
  const shelf: Shelf = {
    load: async () => {
      if (kept instanceof Error) throw kept;
      return kept;
    },
    saveSculpt: async (_blob, _name, job) => void saved.push(job),
    saveJob: async (job) => void saved.push(job),
  };
  const downloads: string[] = [];
  const around = {
    fetchDemo: async () => new Blob(['demo']),
    download: (name: string) => void downloads.push(name),
  };
  const actions = createActions(store, engine, shelf, around);
  return { store, actions, asked, saved, downloads, crash: () => crash() };
}

describe('starting', () => {
  it('opens the demo figure with its job when nothing was kept', async () => {
    const { store, actions } = bench();
    await actions.start();
    expect(jobOf(store.getState())).toEqual(demoJob);
    expect(store.getState().sitting).toMatchObject({ seamId, pegIndex: 0 });
  });

  it('brings back the last sculpt and job', async () => {
    const job = offsetTo(55)(demoJob);
    const { store, actions } = bench({ job, blob: new Blob(['x']), name: 'mine.stl' });
    await actions.start();
    expect(jobOf(store.getState())).toEqual(job);
    expect(store.getState().saved.sculpt?.name).toBe('mine.stl');
  });

  it.each([
    ['a store that can not be read', new Error('broken')],
    ['a kept job that is none', { job: { format: 'other' }, blob: new Blob(), name: 'x.stl' }],
    ['a kept sculpt that no longer opens', { job: demoJob, blob: new Blob(), name: 'bad.stl' }],
  ])('falls back to the demo figure after %s', async (_, kept) => {
    const { store, actions } = bench(kept);
    await actions.start();
    expect(store.getState().saved.sculpt?.name).toBe(demoJob.sculpt.file);
    expect(store.getState().derived.message).toBeNull();
  });
});

describe('opening', () => {
  it('leaves everything as it was when a file is refused, and says one sentence', async () => {
    const { store, actions } = bench();
    await actions.start();
    actions.apply(offsetTo(44));
    const before = store.getState();
    await actions.openFiles([new File([''], 'bad.stl')]);
    const after = store.getState();
    expect(after.saved).toEqual(before.saved);
    expect(after.derived.summary).toBe(before.derived.summary);
    expect(after.derived.message).toMatchObject({ tone: 'error', text: expect.stringContaining('bad.stl') });
  });

  it('gives a new sculpt a fresh job with nothing to undo', async () => {
    const { store, actions } = bench();
    await actions.start();
    actions.apply(offsetTo(44));
    await actions.openFiles([new File(['x'], 'other.stl')]);
    const { history } = store.getState().saved;
    expect(history.present.seams[0].plane).toEqual({ normal: [0, 0, 1], offsetMm: 50 });
    expect(history.past).toEqual([]);
  });

  it('keeps a job whose sculpt is not here until that sculpt is opened', async () => {
    const { store, actions } = bench();
    await actions.start();
    const job = { ...offsetTo(12)(demoJob), sculpt: { file: 'later.stl', unit: 'mm', scale: 1 } };
    await actions.openFiles([new File([JSON.stringify(job)], 'later.json')]);
    expect(jobOf(store.getState())).toEqual(demoJob);
    await actions.openFiles([new File(['x'], 'later.stl')]);
    expect(jobOf(store.getState())).toEqual(job);
  });

  it('applies a job for the sculpt on the bench as one step that can be undone', async () => {
    const { store, actions } = bench();
    await actions.start();
    await actions.openFiles([new File([JSON.stringify(offsetTo(12)(demoJob))], 'again.json')]);
    expect(jobOf(store.getState()).seams[0].plane.offsetMm).toBe(12);
    actions.undo();
    expect(jobOf(store.getState())).toEqual(demoJob);
  });
});

describe('working out', () => {
  it('shows the newest answer only, whatever the order they come in', async () => {
    const { store, actions, asked } = bench();
    await actions.start();
    actions.apply(offsetTo(40));
    actions.apply(offsetTo(41));
    const [, older, newer] = asked;
    newer.answer({ ...emptyView });
    await settle();
    older.answer({ ...emptyView });
    await settle();
    expect(store.getState().derived.viewJob).toBe(newer.job);
  });

  it('keeps the last good result and says what is wrong on failure; the next success takes it back', async () => {
    const { store, actions, asked } = bench();
    await actions.start();
    asked[0].answer(emptyView);
    await settle();
    actions.apply(offsetTo(999));
    asked[1].refuse({ code: 'seam-misses', facts: { seamId } });
    await settle();
    expect(store.getState().derived).toMatchObject({
      view: emptyView,
      busy: null,
      message: { tone: 'error' },
    });
    actions.undo();
    asked[2].answer(emptyView);
    await settle();
    expect(store.getState().derived.message).toBeNull();
  });

  it('makes one step of a drag, and none of a cancelled one', async () => {
    const { store, actions } = bench();
    await actions.start();
    const drag = (to: number[]) => {
      actions.gesture.begin();
      for (const mm of to) actions.gesture.update(offsetTo(mm), true);
    };
    drag([50, 51, 52]);
    actions.gesture.cancel();
    expect(jobOf(store.getState())).toBe(demoJob);
    drag([50, 51, 52]);
    actions.gesture.complete();
    expect(store.getState().saved.history.past).toEqual([demoJob]);
    actions.undo();
    expect(jobOf(store.getState())).toEqual(demoJob);
  });

  it('works the job out once more after a crash, but not for ever', async () => {
    const { store, actions, asked, crash } = bench();
    await actions.start();
    crash();
    expect(asked).toHaveLength(2);
    expect(store.getState().derived.message?.tone).toBe('error');
    crash();
    expect(asked).toHaveLength(2);
    expect(jobOf(store.getState())).toBe(demoJob);
  });
});

describe('keeping and handing out', () => {
  it('keeps the job at once when the page is left', async () => {
    const { actions, saved } = bench();
    await actions.start();
    actions.apply(offsetTo(40));
    actions.saveNow();
    expect(saved.at(-1)?.seams[0].plane.offsetMm).toBe(40);
  });

  it('hands out parts under the name the engine gives them', async () => {
    const { actions, downloads } = bench();
    await actions.start();
    await actions.exportPart(null);
    expect(downloads).toEqual(['figure-parts.zip']);
  });
});

describe('the unit of a file', () => {
  it('is what the file declares until somebody says otherwise', async () => {
    const { store, actions } = bench();
    await actions.openFiles([new File(['x'], 'figure.3mf')]);
    expect(jobOf(store.getState()).sculpt).toEqual({ file: 'figure.3mf', unit: 'inch', scale: 1 });
    const { offsetMm } = jobOf(store.getState()).seams[0].plane;
    await actions.setUnit('mm');
    expect(jobOf(store.getState()).sculpt.unit).toBe('mm');
    expect(jobOf(store.getState()).seams[0].plane.offsetMm).toBeCloseTo(offsetMm / 25.4, 9);
  });
});
