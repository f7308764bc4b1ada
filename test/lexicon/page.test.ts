import { createElement, type FunctionComponent, type ReactElement } from 'react';
import { I18nProvider } from 'react-aria-components';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { BenchTools } from '../../app/bench/BenchTools.tsx';
import { StartCard } from '../../app/bench/StartCard.tsx';
import { Fields } from '../../app/panels/Fields.tsx';
import { Findings } from '../../app/panels/Findings.tsx';
import { PartTree } from '../../app/panels/PartTree.tsx';
import { Price } from '../../app/panels/Price.tsx';
import { Remedies } from '../../app/panels/Remedies.tsx';
import { Sheets } from '../../app/panels/Sheets.tsx';
import { StatusLine } from '../../app/panels/StatusLine.tsx';
import { TopBar } from '../../app/panels/TopBar.tsx';
import { type Actions, createActions } from '../../app/state/actions.ts';
import { type BenchState, initialState, jobOf, refusalOf } from '../../app/state/bench-state.ts';
import { addSeam, setBy, setJoint, setPlane } from '../../app/state/job-edits.ts';
import { mirrorFit } from '../../app/state/mirroring.ts';
import { addMend } from '../../app/state/sculpt-edits.ts';
import { WorkbenchProvider } from '../../app/state/workbench.tsx';
import { words } from '../../app/words.ts';
import { demoJob, planeSeam } from '../../src/index.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { lumpySphere } from '../support/figures.ts';
import { unmarkedIn } from '../support/marked-language.ts';
import { sessionEngine } from '../support/session-engine.ts';
import { torus } from '../support/simple-solids.ts';

/** The page's screens where a second language is spoken: nothing on them is of the first. */

vi.mock('../../src/lexicon/lexicon.ts', async (load) => {
  const actual = await load<typeof import('../../src/lexicon/lexicon.ts')>();
  const { markedLanguage } = await import('../support/marked-language.ts');
  return { ...actual, lexiconFor: () => actual.lexiconOf(markedLanguage) };
});

/** Names that people give are of no language: this one has no letters that could be taken for English. */
const FILE = 'Ж.1';
const figure = lumpySphere(6, 15, 3, 0.2);
const fileOf = (mesh: typeof figure, name = FILE) =>
  new File([writeStlBinary(mesh, [0, 0, 0]) as Uint8Array<ArrayBuffer>], name);
const ring = torus(20, 5, 24, 12);
const holed = { ...figure, triangles: figure.triangles.slice(figure.triangles.length / 4) };

function bench() {
  const store = createStore<BenchState>(() => initialState({ ...demoJob, seams: [] }, 'system'));
  const shelf = { load: async () => null, saveSculpt: async () => {}, saveJob: async () => {} };
  const tabs = { claim: async () => true, onLost: () => {} };
  const around = { tabs, fetchDemo: () => Promise.reject(new Error('away')), download: () => {} };
  return { store, actions: createActions(store, sessionEngine(), shelf, around) };
}

const SCREENS: readonly FunctionComponent[] = [
  TopBar,
  PartTree,
  Fields,
  Findings,
  Sheets,
  StatusLine,
  StartCard,
  BenchTools,
];

/** Attributes that are seen or heard, and what stands in fields. */
const SPOKEN =
  / (?:title|alt|placeholder|aria-(?:label|valuetext|description))="([^"]*)"|<input[^>]* value="([^"]*)"/g;

/** All that a person sees or hears of the screens. */
function read(store: StoreApi<BenchState>, actions: Actions, more: readonly ReactElement[] = []): string {
  const screens = [...SCREENS.map((screen) => createElement(screen, { key: screen.name })), ...more];
  const children = createElement(I18nProvider, { locale: 'de-AT', children: screens });
  const markup = renderToStaticMarkup(
    createElement(WorkbenchProvider, { value: { store, actions }, children }),
  );
  const spoken = [...markup.matchAll(SPOKEN)].map(([, text, value]) => text ?? value);
  return [markup.replace(/<[^>]*>/g, '\n'), ...spoken].join('\n').replace(/&[a-z]+;|&#x?\w+;/g, ' ');
}

/** When nothing is being worked out. */
const idle = (store: StoreApi<BenchState>) =>
  vi.waitFor(() => expect(store.getState().derived.busy).toBeNull(), { timeout: 20_000 });

const TABS = ['sculpt', 'seam', 'peg', 'process'] as const;

describe('the page in a second language', () => {
  it('says nothing in the first before a figure is there, nor of what could not be fetched', async () => {
    const { store, actions } = bench();
    expect(unmarkedIn(read(store, actions))).toEqual([]);
    await actions.openDemo();
    expect(store.getState().derived.message?.said.code).toBe('demo-missing');
    const text = read(store, actions);
    expect(text.length).toBeGreaterThan(200);
    expect(unmarkedIn(text)).toEqual([]);
  });

  it('says nothing in the first of a figure, its seam, peg and drawings, and has the signs of its own numbers', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(figure)]);
    await idle(store);
    const { view, message } = store.getState().derived;
    expect([view?.seams[0]?.joints.length, message]).toEqual([1, null]);
    for (const tab of TABS) {
      actions.sit({ tab, adding: tab === 'peg' });
      const text = read(store, actions);
      expect(unmarkedIn(text)).toEqual([]);
      expect(text).toMatch(/\d,\d/);
      expect(text.replaceAll(FILE, '')).not.toMatch(/\d\.\d/);
    }
  });

  it('says nothing in the first of a seam to be mirrored, whether the figure is symmetric or not', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(figure)]);
    await idle(store);
    actions.sit({ tab: 'seam' });
    for (const across of ['found', 'x'] as const) {
      actions.chooseMirror({ across });
      expect(read(store, actions)).toContain(words.mirrorMeasuring);
      await vi.waitFor(() => expect(mirrorFit(store.getState())).not.toBeNull(), { timeout: 20_000 });
      const fit = mirrorFit(store.getState())!;
      for (const isSymmetric of [true, false]) {
        const measured = { ...fit, isSymmetric };
        store.setState((s) => ({
          ...s,
          derived: { ...s.derived, symmetry: measured, symmetryAcross: measured },
        }));
        const text = read(store, actions);
        expect(text).toContain(words.mirrorFit(measured, across === 'found'));
        expect(unmarkedIn(text)).toEqual([]);
      }
    }
  });

  it('says nothing in the first of findings, refusals and earlier results', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(figure)]);
    await idle(store);
    const [{ id }] = jobOf(store.getState()).seams;
    const at = [0, 0, 14] as const;
    actions.apply((job) => setJoint(job, id, 'a', { at, widthMm: 19, lengthMm: 12, sideGapMm: 0 }));
    await idle(store);
    expect(store.getState().derived.view?.findings.length).toBeGreaterThan(1);
    expect(unmarkedIn(read(store, actions))).toEqual([]);
    actions.apply((job) => setPlane(job, id, { normal: [0, 0, 1], offsetMm: 900 }));
    await idle(store);
    expect(store.getState().derived.view?.findings.map(({ code }) => code)).toEqual(['seam-waits']);
    const waiting = read(store, actions);
    expect(unmarkedIn(waiting)).toEqual([]);
    expect(waiting).toContain(words.waits);
    await actions.openFiles([fileOf(ring)]);
    await idle(store);
    const [seam] = jobOf(store.getState()).seams;
    const by = { kind: 'plane', normal: [1, 0, 0], offsetMm: 0, through: [[0, 20, 0]] } as const;
    actions.apply((job) => setBy(job, seam.id, { ...by, through: [...by.through] }));
    await idle(store);
    expect(refusalOf(store.getState())?.said.code).toBe('seam-frees-nothing');
    const text = read(store, actions);
    expect(unmarkedIn(text)).toEqual([]);
    expect(text).toContain(words.stale.refused);
  });

  it('says nothing in the first of the order of seams, and of one that cannot be moved in it', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(figure)]);
    await idle(store);
    const [{ id }] = jobOf(store.getState()).seams;
    const across = planeSeam([1, 0, 0], 0);
    actions.apply((job) => setPlane(job, id, { normal: [0, 0, 1], offsetMm: 0 }));
    actions.apply((job) =>
      addSeam(job, { ...job.seams[0], id: '2', of: `${id}.front`, by: across, joints: [] }),
    );
    actions.select('2', null, 'seam');
    await idle(store);
    await actions.moveSeam('2', 'earlier');
    expect(store.getState().derived.message?.said.code).toBe('seam-order-fixed');
    const text = read(store, actions);
    expect(unmarkedIn(text)).toEqual([]);
    expect(text).toContain(words.earlier);
  });

  it('says nothing in the first of a figure that is not sound, its flaws, what could be done and what was', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(holed)]);
    actions.sit({ tab: 'sculpt' });
    await vi.waitFor(() => expect(store.getState().derived.health).not.toBeNull(), { timeout: 20_000 });
    await actions.tryMend({ do: 'fill-holes', how: 'flat' });
    const { tried, health } = store.getState().derived;
    if (!tried) throw new Error('nothing was tried');
    expect(health?.defects).not.toEqual([]);
    const price = createElement(Price, { key: 'price', tried, onLeave: () => {} });
    const remedies = createElement(Remedies, {
      key: 'remedies',
      at: 'open-edges',
      asked: { at: 'open-edges', remedy: 'weld' },
      onAsk: () => {},
    });
    expect(unmarkedIn(read(store, actions, [price, remedies]))).toEqual([]);
    actions.apply((job) => addMend(job, tried.mend));
    await vi.waitFor(() => expect(store.getState().derived.summary?.solid).toBe(true), { timeout: 20_000 });
    await idle(store);
    const text = read(store, actions);
    expect(text).toContain(words.agreedSteps);
    expect(unmarkedIn(text)).toEqual([]);
  });

  it('says nothing in the first while it works, where another tab keeps the job, and when it exports', async () => {
    const { store, actions } = bench();
    await actions.openFiles([fileOf(figure)]);
    await idle(store);
    await actions.exportPart(null);
    const shown = (change: (state: BenchState) => BenchState) => {
      store.setState(change);
      return read(store, actions);
    };
    expect(store.getState().derived.message?.said.code).toBe('exported');
    const saved = shown((s) => ({ ...s, saved: { ...s.saved, keptBy: 'other-tab' } }));
    expect(saved).toContain(words.keptByOther);
    expect(unmarkedIn(saved.replaceAll('.zip', ''))).toEqual([]);
    actions.dismiss();
    for (const step of ['reading', 'cutting', 'proving', null] as const) {
      const busy = { what: 'evaluating', step, done: 0.5 } as const;
      expect(unmarkedIn(shown((s) => ({ ...s, derived: { ...s.derived, busy } })))).toEqual([]);
    }
  });
});
