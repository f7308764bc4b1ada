import { vi } from 'vitest';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Actions, createActions } from '../../app/state/actions.ts';
import { type BenchState, initialState, jobOf } from '../../app/state/bench-state.ts';
import { demoJob, type Job } from '../../src/index.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { sessionEngine } from './session-engine.ts';

/** The page's state and actions over the engine, without a page. */
export interface StateBench {
  store: StoreApi<BenchState>;
  actions: Actions;
  engine: ReturnType<typeof sessionEngine>;
  job(): Job;
  /** When nothing is being worked out. */
  idle(): Promise<void>;
}

export const figureFile = (mesh: Mesh, name = 'figure.stl'): File =>
  new File([writeStlBinary(mesh, [0, 0, 0]) as Uint8Array<ArrayBuffer>], name);

/** A bench with this figure on it, and the seam that a new figure comes with worked out. */
export async function stateBench(mesh: Mesh): Promise<StateBench> {
  const store = createStore<BenchState>(() => initialState({ ...demoJob, seams: [] }, 'system'));
  const engine = sessionEngine();
  const shelf = { load: async () => null, saveSculpt: async () => {}, saveJob: async () => {} };
  const tabs = { claim: async () => true, onLost: () => {} };
  const around = { tabs, fetchDemo: () => Promise.reject(new Error('away')), download: () => {} };
  const actions = createActions(store, engine, shelf, around);
  const idle = async () => {
    const isBusy = () => store.getState().derived.busy !== null;
    const options = { timeout: 20_000, interval: 1 };
    await vi.waitFor(() => {
      if (isBusy()) throw new Error('still at work');
    }, options);
  };
  await actions.openFiles([figureFile(mesh)]);
  await idle();
  return { store, actions, engine, job: () => jobOf(store.getState()), idle };
}
