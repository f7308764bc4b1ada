import { afterEach, describe, expect, it, vi } from 'vitest';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { createActions } from '../../../app/state/actions.ts';
import {
  type BenchState,
  filesOnBench,
  initialState,
  isSculptCurrent,
  jobOf,
} from '../../../app/state/bench-state.ts';
import { setPlane } from '../../../app/state/job-edits.ts';
import { mirrorFit, mirrorPlane } from '../../../app/state/mirroring.ts';
import { betterUnit } from '../../../app/state/placing.ts';
import type { EnginePort, Shelf } from '../../../app/state/ports.ts';
import { addMend, setScale, setUnit } from '../../../app/state/sculpt-edits.ts';
import { messageText } from '../../../app/ui/message-text.ts';
import {
  type DisplayMesh,
  demoJob,
  type EvaluationView,
  type Job,
  type LiveFace,
  type LiveSeam,
  mirroredSeam,
  NO_TURN,
  type OnProgress,
  planeSeam,
  type SculptSummary,
  type SculptSymmetry,
  type SeamPlane,
  turnedVec,
} from '../../../src/index.ts';
import type { OpenAs } from '../../../src/worker/protocol.ts';
import { planeOf } from '../../support/plane-of.ts';

const mesh: DisplayMesh = {
  positions: new Float32Array(0),
  triangles: new Uint32Array(0),
  normals: new Float32Array(0),
};
const BOX = { min: [0, 0, 0], max: [10, 10, 100] } as const;
const METRES = { min: [0, 0, 0], max: [0.5, 0.4, 1.8] } as const;
const summaryOf = (file: string, boundsMm: SculptSummary['boundsMm'] = BOX): SculptSummary => ({
  file,
  format: 'stl',
  unit: 'mm',
  triangles: 4,
  vertices: 4,
  shells: 1,
  boundsMm,
  volumeMm3: 1,
  areaMm2: 1,
  originMm: [0, 0, 0],
  findings: [],
  repairs: [],
  bodies: [],
  solids: [],
  declaredUnit: null,
  solid: true,
});
const emptyView: EvaluationView = {
  parts: [],
  seams: [],
  volume: { sculptMm3: 1, partsMm3: 1, pegsMm3: 0, socketsMm3: 0, trimmedMm3: 0, residualMm3: 0 },
  movedMm: [0, 0, 0],
  overlapsNested: false,
  findings: [],
  timingsMs: { cut: 0, joint: 0, check: 0 },
  contours: {},
  section: null,
};
const seamId = demoJob.seams[0].id;
const offsetTo = (offsetMm: number) => (job: Job) =>
  setPlane(job, seamId, { ...planeOf(job.seams[0]), offsetMm });
const symmetryAcross = (across: SeamPlane): SculptSymmetry => ({
  across,
  nearMm: 0.1,
  share: 0.9,
  errorMm: { rms: 0.01, max: 0.05 },
  farthestMm: 2,
  isSymmetric: true,
});
/** What the status line says. */
const told = (store: StoreApi<BenchState>): string | null => {
  const { message } = store.getState().derived;
  return message && messageText(message);
};
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

/** A bench over an engine that answers when the test lets it, and a shelf in memory. */
function bench(kept: Awaited<ReturnType<Shelf['load']>> | Error = null, isFree = true) {
  const store = createStore<BenchState>(() => initialState(demoJob, 'system'));
  const asked: {
    job: Job;
    isHeld: boolean;
    tell: OnProgress;
    answer(view: EvaluationView): void;
    refuse(error: unknown): void;
  }[] = [];
  const outlines: ((live: LiveSeam) => void)[] = [];
  const proved: Job[] = [];
  const opened: { names: string[]; options: OpenAs }[] = [];
  const saved: Job[] = [];
  let crash = () => {};
  const engine: EnginePort = {
    async open(files, options, _onProgress, onGlimpse) {
      const [{ name }] = files;
      opened.push({ names: files.map((file) => file.name), options });
      onGlimpse({ mesh, boundsMm: BOX, originMm: [0, 0, 0] });
      await (name.startsWith('slow') ? new Promise((resolve) => setTimeout(resolve, 400)) : settle());
      if (name.startsWith('bad')) throw { code: 'file-empty', facts: { file: name } };
      if (options.scale > 1000) throw { code: 'coordinates-not-finite', facts: { file: name, count: 1 } };
      const declaredUnit = name.endsWith('.3mf') ? 'inch' : null;
      const mended = (options.mend?.length ?? 0) > 0;
      const solid = mended || !name.startsWith('holed');
      const bounds = name.startsWith('metres') ? METRES : BOX;
      return {
        summary: {
          ...summaryOf(name, bounds),
          unit: options.unit ?? declaredUnit ?? 'mm',
          declaredUnit,
          solid,
        },
        mesh,
      };
    },
    health: async () => ({
      defects: [
        {
          kind: 'open-edges',
          count: 2,
          places: [
            [1, 0, 0],
            [2, 0, 0],
          ],
        },
      ],
      crossingsComplete: true,
    }),
    tryMend: async () => ({ repairs: [], triangles: 4, solid: true }),
    estimate: async () => ({ cellMm: 1, cells: 1, triangles: 1, seconds: 1, leastCellMm: 1 }),
    rest: async () => [1, 0, 0],
    touching: async () => [],
    narrowest: async () => null,
    squared: async () => null,
    jointMends: async () => [],
    oneWayMends: async () => [],
    suggestJoints: async () => ({ joints: null, placed: 0, wallMm: 0, oneWay: false }),
    reorder: async ({ seams }) => ({ seams, renamed: null }),
    symmetry: async (across) => symmetryAcross(across ?? { normal: [1, 0, 0], offsetMm: 5 }),
    mirror: async (job, id, across) => {
      const { by, joints, pegOn } = job.seams.find((seam) => seam.id === id)!;
      const image = mirroredSeam(by, across);
      if (image === null || across.offsetMm < 0) throw { code: 'mirror-misses', facts: { seamId: id } };
      return { of: `${id}.back`, by: image.by, pegOn, joints, areasMm2: [4, 4] };
    },
    evaluate: (job, _focus, tell, isHeld) =>
      new Promise((answer, refuse) => asked.push({ job, isHeld, tell, answer, refuse })),
    outline: () => new Promise((answer) => outlines.push(answer)),
    prove: async (job) => {
      proved.push(job);
      return 'proved';
    },
    export: async () => ({ name: 'figure-parts.zip', file: new Blob(), proving: 'proved' }),
    cancel: () => {},
    onCrash: (listener) => {
      crash = listener;
    },
  };
  const shelf: Shelf & { files: string[] } = {
    files: [],
    load: async () => {
      if (kept instanceof Error) throw kept;
      return kept;
    },
    saveSculpt: async (files, job) => {
      shelf.files = files.map(({ name }) => name);
      saved.push(job);
    },
    saveJob: async (job) => void saved.push(job),
  };
  const downloads: string[] = [];
  let lose = () => {};
  const around = {
    fetchDemo: async () => new Blob(['demo']),
    download: (name: string) => void downloads.push(name),
    tabs: {
      claim: async (take: boolean) => take || isFree,
      onLost: (listener: () => void) => {
        lose = listener;
      },
    },
  };
  const actions = createActions(store, engine, shelf, around);
  return {
    store,
    actions,
    around,
    asked,
    outlines,
    proved,
    opened,
    saved,
    shelf,
    downloads,
    crash: () => crash(),
    lose: () => lose(),
  };
}

describe('what is on its way to the bench', () => {
  it('is known by its name from the start until it is there', async () => {
    const { store, actions } = bench();
    expect(store.getState().derived.coming).toBe('');
    const opening = actions.openFiles([new File(['x'], 'slow.stl')]);
    await settle();
    expect(store.getState().derived.coming).toBe('slow.stl');
    await opening;
    expect(store.getState().derived).toMatchObject({ coming: null, summary: { file: 'slow.stl' } });
  });

  it('is nothing once it could not be opened, or not be fetched', async () => {
    const { store, actions, around } = bench();
    await actions.openFiles([new File(['x'], 'bad.stl')]);
    expect(store.getState().derived).toMatchObject({ coming: null, summary: null });
    around.fetchDemo = () => Promise.reject(new Error('offline'));
    await actions.start();
    expect(store.getState().derived).toMatchObject({ coming: null, summary: null, busy: null });
  });
});

describe('starting', () => {
  it('opens the demo figure with its job when nothing was kept', async () => {
    const { store, actions } = bench();
    await actions.start();
    expect(jobOf(store.getState())).toEqual(demoJob);
    expect(store.getState().sitting).toMatchObject({ seamId, jointId: demoJob.seams[0].joints[0].id });
  });

  it('brings back the last sculpt and job', async () => {
    const job = { ...offsetTo(55)(demoJob), sculpt: { ...demoJob.sculpt, file: 'mine.stl' } };
    const { store, actions } = bench({ job, files: [{ blob: new Blob(['x']), name: 'mine.stl' }] });
    await actions.start();
    expect(jobOf(store.getState())).toEqual(job);
    expect(filesOnBench(store.getState()).map(({ name }) => name)).toEqual(['mine.stl']);
  });

  it.each([
    ['a store that can not be read', new Error('broken')],
    ['a kept job that is none', { job: { format: 'other' }, files: [{ blob: new Blob(), name: 'x.stl' }] }],
    [
      'a kept sculpt that no longer opens',
      {
        job: { ...demoJob, sculpt: { ...demoJob.sculpt, file: 'bad.stl' } },
        files: [{ blob: new Blob(), name: 'bad.stl' }],
      },
    ],
  ])(
    'falls back to the demo figure after %s, says so, and keeps nothing in its place until it is worked on',
    async (_, kept) => {
      const { store, actions, saved } = bench(kept);
      await actions.start();
      expect(filesOnBench(store.getState())[0].name).toBe(demoJob.sculpt.file);
      expect(store.getState().derived.message?.tone).toBe('error');
      expect(told(store)).toMatch(
        /^What was kept .* could not be opened, .* until you change or open something here\.$/,
      );
      actions.saveNow();
      expect(saved).toEqual([]);
      actions.apply(offsetTo(44));
      actions.saveNow();
      expect(saved).toEqual([offsetTo(44)(demoJob)]);
    },
  );
});

describe('several tabs', () => {
  it('do not write over each other: the one that came first keeps the job until another takes it over', async () => {
    const second = bench(null, false);
    await second.actions.start();
    second.actions.apply(offsetTo(44));
    second.actions.saveNow();
    expect(second.saved).toEqual([]);
    expect(second.store.getState().saved.keptBy).toBe('other-tab');
    await second.actions.keepHere();
    expect(second.saved).toEqual([offsetTo(44)(demoJob)]);
    expect(second.store.getState().saved.keptBy).toBe('here');
    second.lose();
    second.actions.apply(offsetTo(45));
    second.actions.saveNow();
    expect(second.store.getState().saved.keptBy).toBe('other-tab');
    expect(second.saved).toHaveLength(1);
  });
});

describe('removing a seam', () => {
  it('leaves others waiting for its parts, says which, and brings the parts back by undo', async () => {
    const { store, actions } = bench();
    await actions.start();
    const [neck] = demoJob.seams;
    const beak = { ...neck, id: 'beak', of: `${neck.id}.front`, names: { front: 'beak', back: 'skull' } };
    const own = { ...neck, id: 'own', of: `${neck.id}.back`, names: { front: 'wing', back: 'tail' } };
    actions.apply((job) => ({ ...job, seams: [neck, beak, own] }));
    actions.removeSeam('own');
    expect(store.getState().derived.message).toBeNull();
    actions.undo();
    actions.removeSeam(neck.id);
    expect(jobOf(store.getState()).seams.map(({ id }) => id)).toEqual(['beak', 'own']);
    expect(told(store)).toMatch(/^2 seams wait now for a part that is gone: beak \/ skull, wing \/ tail\./);
    actions.undo();
    expect(jobOf(store.getState()).seams.map(({ id }) => id)).toEqual([neck.id, 'beak', 'own']);
  });
});

describe('the chosen joint', () => {
  /** A bench whose seam has three joints, a, b and c. */
  const withThree = async () => {
    const one = bench();
    await one.actions.start();
    one.actions.addJoint('auto');
    one.actions.addJoint('auto');
    const chosen = () => one.store.getState().sitting.jointId;
    const ids = () => jobOf(one.store.getState()).seams[0].joints.map(({ id }) => id);
    expect(ids()).toEqual(['a', 'b', 'c']);
    return { ...one, chosen, ids };
  };

  it('is the one that was added last', async () => {
    const { chosen, store } = await withThree();
    expect(chosen()).toBe('c');
    expect(store.getState().sitting.tab).toBe('peg');
  });

  it('is the one in its place once it is removed, and the last where there is none', async () => {
    const { actions, chosen, ids } = await withThree();
    actions.select(seamId, 'b', 'peg');
    actions.removeJoint('b');
    expect([ids(), chosen()]).toEqual([['a', 'c'], 'c']);
    actions.removeJoint('c');
    expect([ids(), chosen()]).toEqual([['a'], 'a']);
    actions.removeJoint('a');
    expect([ids(), chosen()]).toEqual([[], null]);
  });

  it('stays the same where another is removed before it', async () => {
    const { actions, chosen, ids } = await withThree();
    actions.removeJoint('a');
    expect([ids(), chosen()]).toEqual([['b', 'c'], 'c']);
  });

  it('stays through undo and redo as long as it is there, and is the first where it is not', async () => {
    const { actions, chosen, ids } = await withThree();
    actions.select(seamId, 'b', 'peg');
    actions.removeJoint('b');
    actions.undo();
    expect([ids(), chosen()]).toEqual([['a', 'b', 'c'], 'c']);
    actions.undo(); // the adding of c
    expect([ids(), chosen()]).toEqual([['a', 'b'], 'a']);
    actions.redo();
    expect([ids(), chosen()]).toEqual([['a', 'b', 'c'], 'a']);
  });

  it('can not be removed while a hand holds it', async () => {
    const { actions, ids } = await withThree();
    actions.gesture.begin();
    actions.removeJoint('c');
    expect(ids()).toEqual(['a', 'b', 'c']);
    actions.gesture.cancel();
    expect(ids()).toEqual(['a', 'b', 'c']);
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
    expect(after.derived.message?.tone).toBe('error');
    expect(told(store)).toContain('bad.stl');
  });

  it('gives a new sculpt a fresh job, and brings the earlier one back with its seams by undo', async () => {
    const { store, actions, opened, saved } = bench();
    await actions.start();
    actions.apply(offsetTo(44));
    await actions.openFiles([new File(['x'], 'other.stl')]);
    expect(jobOf(store.getState()).seams[0].by).toEqual(planeSeam([0, 0, 1], 50));
    expect(told(store)).toMatch(/^Opened other\.stl\. Undo brings heron\.ply\.gz back/);
    expect(saved.at(-1)?.sculpt.file).toBe('other.stl');
    actions.undo();
    await vi.waitFor(() => expect(isSculptCurrent(store.getState())).toBe(true));
    expect(opened.at(-1)?.names).toEqual(['heron.ply.gz']);
    expect(jobOf(store.getState())).toEqual(offsetTo(44)(demoJob));
    expect(store.getState().derived.summary?.file).toBe('heron.ply.gz');
    expect(saved.at(-1)).toEqual(offsetTo(44)(demoJob));
    actions.redo();
    await vi.waitFor(() => expect(store.getState().derived.summary?.file).toBe('other.stl'));
    // The demo button is no other way to lose anything.
    await actions.openDemo();
    actions.undo();
    await vi.waitFor(() => expect(store.getState().derived.summary?.file).toBe('other.stl'));
  });

  it('keeps a job with the files of its own sculpt, even before an undo has opened them again', async () => {
    const { store, actions, saved, shelf } = bench();
    await actions.start();
    await actions.openFiles([new File(['x'], 'other.stl')]);
    expect(shelf.files).toEqual(['other.stl']);
    actions.undo();
    actions.saveNow(); // the tab goes away while the earlier figure is still being read
    expect(isSculptCurrent(store.getState())).toBe(false);
    expect(saved.at(-1)?.sculpt.file).toBe('heron.ply.gz');
    expect(shelf.files).toEqual(['heron.ply.gz']);
  });

  it('shows a figure that takes long before it is ready, and one that does not only when it is', async () => {
    const { store, actions } = bench();
    const glimpsed: string[] = [];
    store.subscribe(({ derived }) => derived.glimpse && glimpsed.push(derived.summary?.file ?? ''));
    await actions.openFiles([new File(['x'], 'quick.stl')]);
    expect(glimpsed).toEqual([]);
    await actions.openFiles([new File(['x'], 'slow.stl')]);
    expect(glimpsed[0]).toBe('quick.stl');
    expect(store.getState().derived).toMatchObject({ glimpse: null, summary: { file: 'slow.stl' } });
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
    expect(planeOf(jobOf(store.getState()).seams[0]).offsetMm).toBe(12);
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
    expect(store.getState().saved.history.past.map(({ job }) => job)).toEqual([demoJob]);
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

describe('as time passes', () => {
  afterEach(() => void vi.useRealTimers());
  const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);
  const started = async () => {
    vi.useFakeTimers();
    const one = bench();
    const start = one.actions.start();
    await pass(1);
    await start;
    return one;
  };

  it('proves and keeps nothing while a hand holds it, and does both when it lets go', async () => {
    const { store, actions, asked, proved, saved } = await started();
    const before = saved.length;
    actions.gesture.begin();
    actions.gesture.update(offsetTo(50), false);
    asked.at(-1)?.answer(emptyView);
    await pass(5000);
    expect([proved.length, saved.length]).toEqual([0, before]);
    expect(asked.at(-1)?.isHeld).toBe(true);
    actions.gesture.complete();
    expect(asked.at(-1)?.isHeld).toBe(false);
    asked.at(-1)?.answer(emptyView);
    await pass(5000);
    expect(proved).toEqual([jobOf(store.getState())]);
    expect(saved.at(-1)?.seams.map(planeOf)[0].offsetMm).toBe(50);
  });

  it('tells of work that lasts, with the step it is at, and not of work that is soon over', async () => {
    const { store, actions, asked } = await started();
    const busy = () => store.getState().derived.busy;
    asked[0].answer(emptyView);
    await pass(1);
    actions.apply(offsetTo(50));
    asked[1].tell('cutting', 0);
    await pass(200);
    expect(busy()).toEqual({ what: 'evaluating', step: null, done: null, isBrief: true });
    await pass(200);
    expect(busy()).toEqual({ what: 'evaluating', step: 'cutting', done: 0 });
    // Each step is told of at once, how far it is now and then.
    asked[1].tell('jointing', 0);
    expect(busy()).toMatchObject({ step: 'jointing', done: 0 });
    asked[1].tell('jointing', 0.1);
    await pass(60);
    asked[1].tell('jointing', 0.2);
    expect(busy()?.done).toBe(0);
    await pass(60);
    asked[1].tell('jointing', 0.3);
    expect(busy()?.done).toBe(0.3);
    // An edit upon it is the same wait to whoever watches.
    actions.apply(offsetTo(51));
    expect(busy()?.isBrief).toBeUndefined();
    asked[2].answer(emptyView);
    await pass(1);
    expect(busy()).toBeNull();
  });
});

describe('the outline of a seam under a hand', () => {
  const face: LiveFace = {
    frame: { origin: [0, 0, 50], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] },
    outlines: [],
    areaMm2: 0,
    perimeterMm: 0,
    contours: [],
    uncut: [],
  };
  const held = async () => {
    const one = bench();
    await one.actions.start();
    one.asked[0].answer(emptyView);
    await settle();
    one.actions.gesture.begin();
    one.actions.gesture.update(offsetTo(50), true);
    return { ...one, live: () => one.store.getState().derived.live };
  };

  it('is shown ahead of the parts, and no longer once they are there', async () => {
    const { actions, asked, outlines, live } = await held();
    outlines[0]({ by: null, faces: [face] });
    await settle();
    expect(live()).toEqual({ seamId, faces: [face] });
    actions.gesture.complete();
    asked.at(-1)?.answer(emptyView);
    await settle();
    expect(live()).toBeNull();
  });

  it('is not shown when it comes after the parts', async () => {
    const { actions, asked, outlines, live } = await held();
    actions.gesture.complete();
    asked.at(-1)?.answer(emptyView);
    await settle();
    for (const answer of outlines) answer({ by: null, faces: [face] });
    await settle();
    expect(live()).toBeNull();
  });

  it('is not shown when the hand took its move back', async () => {
    const { actions, outlines, live } = await held();
    actions.gesture.cancel();
    for (const answer of outlines) answer({ by: null, faces: [face] });
    await settle();
    expect(live()).toBeNull();
  });

  it('is not shown on another sculpt', async () => {
    const { actions, outlines, live } = await held();
    actions.gesture.complete();
    const asked = [...outlines];
    await actions.openFiles([new File(['x'], 'other.stl')]);
    for (const answer of asked) answer({ by: null, faces: [face] });
    await settle();
    expect(live()).toBeNull();
  });
});

describe('keeping and handing out', () => {
  it('keeps the job at once when the page is left', async () => {
    const { actions, saved } = bench();
    await actions.start();
    actions.apply(offsetTo(40));
    actions.saveNow();
    expect(saved.at(-1)?.seams.map(planeOf)[0].offsetMm).toBe(40);
  });

  it('hands out parts under the name the engine gives them', async () => {
    const { actions, downloads } = bench();
    await actions.start();
    await actions.exportPart(null);
    expect(downloads).toEqual(['figure-parts.zip']);
  });
});

describe('how a sculpt is taken', () => {
  const two = () => [new File(['x'], 'figure.stl'), new File(['x'], 'base.stl')];
  const opening = () => new Promise((resolve) => setTimeout(resolve, 5));

  it('goes by what the file declares until somebody says otherwise', async () => {
    const { store, actions, opened } = bench();
    await actions.openFiles([new File(['x'], 'figure.3mf')]);
    expect(jobOf(store.getState()).sculpt).toEqual({ file: 'figure.3mf', unit: 'inch', scale: 1 });
    actions.apply((job) => setUnit(job, 'mm', 'inch'));
    await opening();
    expect(opened.at(-1)).toMatchObject({ names: ['figure.3mf'], options: { unit: 'mm', scale: 1 } });
    expect(store.getState().derived.summary?.unit).toBe('mm');
  });

  it('is opened anew by an edit, by undo and by redo, with all its files, and worked out then', async () => {
    const { store, actions, opened, asked } = bench();
    await actions.openFiles(two());
    expect(jobOf(store.getState()).sculpt).toMatchObject({ file: 'figure.stl', also: ['base.stl'] });
    const steps: [() => void, number][] = [
      [() => actions.apply((job) => setScale(job, 2, 'mm')), 2],
      [actions.undo, 1],
      [actions.redo, 2],
    ];
    for (const [step, scale] of steps) {
      const before = asked.length;
      step();
      expect(isSculptCurrent(store.getState())).toBe(false);
      await opening();
      expect(isSculptCurrent(store.getState())).toBe(true);
      expect(opened.at(-1)).toMatchObject({ names: ['figure.stl', 'base.stl'], options: { scale } });
      expect(asked.length).toBe(before + 1);
    }
    expect(opened).toHaveLength(4);
  });

  it('stays as it was where it cannot be opened so, says why, and undo works', async () => {
    const { store, actions, asked } = bench();
    await actions.openFiles(two());
    const { summary } = store.getState().derived;
    actions.apply((job) => setScale(job, 5000, 'mm'));
    await opening();
    expect(store.getState().derived).toMatchObject({ summary, busy: null, message: { tone: 'error' } });
    expect(asked).toHaveLength(1);
    actions.undo();
    expect(isSculptCurrent(store.getState())).toBe(true);
    asked[1].answer(emptyView);
    await settle();
    expect(store.getState().derived.message).toBeNull();
  });

  it('comes to what the last of several quick edits says', async () => {
    const { store, actions, opened } = bench();
    await actions.openFiles(two());
    for (const scale of [2, 3, 4]) actions.apply((job) => setScale(job, scale, 'mm'));
    await opening();
    await opening();
    expect(opened.map(({ options }) => options.scale)).toEqual([1, 2, 4]);
    expect(store.getState().derived.openedAs?.scale).toBe(4);
  });

  it('comes with a job for the files on the bench as one step', async () => {
    const { store, actions } = bench();
    await actions.openFiles(two());
    const before = jobOf(store.getState());
    const job = setScale(before, 3, 'mm');
    await actions.openFiles([new File([JSON.stringify(job)], 'again.json')]);
    expect(store.getState().derived.openedAs?.scale).toBe(3);
    actions.undo();
    await opening();
    expect(jobOf(store.getState())).toEqual(before);
    expect(store.getState().derived.openedAs?.scale).toBe(1);
  });

  it('waits for all the files a job names', async () => {
    const { store, actions } = bench();
    await actions.start();
    const job = { ...demoJob, sculpt: { file: 'figure.stl', also: ['base.stl'], unit: 'mm', scale: 2 } };
    await actions.openFiles([new File([JSON.stringify(job)], 'later.json')]);
    expect(told(store)).toContain('figure.stl, base.stl');
    await actions.openFiles(two().reverse());
    expect(jobOf(store.getState())).toEqual(job);
  });

  it('stands on the side the engine names, seams and all', async () => {
    const { store, actions } = bench();
    await actions.openFiles(two());
    await actions.standOnBed();
    const { sculpt, seams } = jobOf(store.getState());
    const [x, y, z] = turnedVec([1, 0, 0], sculpt.turn ?? NO_TURN);
    expect([x, y, z].map((c) => Math.round(c * 1e9) + 0)).toEqual([0, 0, -1e9]);
    expect(planeOf(seams[0]).normal).toEqual([1, 0, 0]);
  });

  it('comes to the front where its unit is unlikely, and is not changed unasked', async () => {
    const { store, actions } = bench();
    await actions.openFiles([new File(['x'], 'metres.stl')]);
    const { derived, sitting } = store.getState();
    expect(sitting.tab).toBe('sculpt');
    expect(jobOf(store.getState()).sculpt.unit).toBe('mm');
    expect(derived.summary && betterUnit(jobOf(store.getState()).sculpt, derived.summary)).toBe('m');
  });
});

describe('a sculpt that is not sound', () => {
  it('comes onto the bench with its report, and is cut once a mend is agreed to', async () => {
    const { store, actions, opened } = bench();
    await actions.start();
    await actions.openFiles([new File(['x'], 'holed.stl')]);
    await settle();
    expect(store.getState().sitting.tab).toBe('sculpt');
    expect(store.getState().derived.health?.defects[0].kind).toBe('open-edges');
    const fill = { do: 'fill-holes', how: 'flat' } as const;
    await actions.tryMend(fill);
    expect(store.getState().derived.tried).toMatchObject({ mend: fill, trial: { solid: true } });
    actions.apply((job) => addMend(job, fill));
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(opened.at(-1)?.options.mend).toEqual([fill]);
    expect(store.getState().derived).toMatchObject({ summary: { solid: true }, health: null, tried: null });
  });

  it('leads from one place of a flaw to the next and round again', async () => {
    const { store, actions } = bench();
    await actions.openFiles([new File(['x'], 'holed.stl')]);
    await settle();
    const seen = [1, 2, 3].map(() => {
      actions.visit('open-edges');
      return store.getState().sitting.lookAt?.at[0];
    });
    expect(seen).toEqual([1, 2, 1]);
  });

  it('does not drown what is said of another file that is refused', async () => {
    const { store, actions, asked } = bench();
    await actions.openFiles([new File(['x'], 'holed.stl')]);
    await settle();
    const before = asked.length;
    await actions.openFiles([new File([''], 'bad.stl')]);
    expect(asked).toHaveLength(before);
    expect(told(store)).toContain('bad.stl');
    expect(filesOnBench(store.getState())[0].name).toBe('holed.stl');
  });
});

describe('mirroring a seam', () => {
  /** A bench with the demo on it and its seam about to be mirrored. */
  async function mirroring() {
    const made = bench();
    await made.actions.start();
    made.actions.select(seamId, null, 'seam');
    made.actions.chooseMirror({ across: 'found' });
    await settle();
    return made;
  }

  it('looks for the figure’s own plane, measures one that is set, and goes through its middle at first', async () => {
    const { store, actions } = await mirroring();
    expect(mirrorPlane(store.getState())).toEqual({ normal: [1, 0, 0], offsetMm: 5 });
    expect(mirrorFit(store.getState())).toMatchObject({ share: 0.9 });
    actions.chooseMirror({ across: 'z' });
    expect(mirrorPlane(store.getState())).toEqual({ normal: [0, 0, 1], offsetMm: 50 });
    expect(mirrorFit(store.getState())).toBe(null);
    await settle();
    expect(mirrorFit(store.getState())).toMatchObject({ across: { normal: [0, 0, 1], offsetMm: 50 } });
  });

  it('is one step, and chooses the image', async () => {
    const { store, actions } = await mirroring();
    expect(await actions.mirrorSeam()).toBe(true);
    const { seams } = jobOf(store.getState());
    expect(seams.map(({ of }) => of)).toEqual(['sculpt', `${seamId}.back`]);
    expect(store.getState().sitting).toMatchObject({ seamId: seams[1].id, mirroring: null });
    expect(told(store)).toContain('Mirrored');
    actions.undo();
    expect(jobOf(store.getState())).toEqual(demoJob);
    actions.redo();
    expect(jobOf(store.getState()).seams).toEqual(seams);
  });

  it('changes nothing where it is refused, and says why', async () => {
    const { store, actions } = await mirroring();
    actions.chooseMirror({ across: 'x', offsetMm: -1 });
    expect(await actions.mirrorSeam()).toBe(false);
    expect(jobOf(store.getState())).toEqual(demoJob);
    expect(told(store)).toContain('passes beside the figure');
    expect(mirrorPlane(store.getState())).not.toBe(null);
  });

  it('is given up by leaving it, its seam or its figure', async () => {
    const { store, actions } = await mirroring();
    actions.leaveMirror();
    expect(mirrorPlane(store.getState())).toBe(null);
    expect(await actions.mirrorSeam()).toBe(false);
    actions.chooseMirror({ across: 'x' });
    actions.removeSeam(seamId);
    expect(store.getState().sitting.mirroring).toBe(null);
    actions.undo();
    actions.select(seamId, null, 'seam');
    actions.chooseMirror({ across: 'x' });
    await actions.openFiles([new File(['x'], 'other.stl')]);
    expect(store.getState().sitting.mirroring).toBe(null);
    expect(store.getState().derived.symmetry).toBe(null);
  });

  it('asks anew where the job has become another on the way', async () => {
    const { store, actions } = await mirroring();
    const done = actions.mirrorSeam();
    actions.apply(offsetTo(44));
    expect(await done).toBe(true);
    const [own, image] = jobOf(store.getState()).seams;
    const across = { normal: [1, 0, 0], offsetMm: 5 } as const;
    expect(image.by).toEqual(mirroredSeam(own.by, across)?.by);
    expect(planeOf(own).offsetMm).toBe(44);
  });
});
