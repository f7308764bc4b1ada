import type { StoreApi } from 'zustand/vanilla';
import type { Job, SculptFile } from '../../src/index.ts';
import type { Engine } from '../../src/worker/client.ts';
import type { BenchState } from './bench-state.ts';
import type { TabLock } from './tab-lock.ts';

export type BenchStore = StoreApi<BenchState>;

/** What the page needs of the engine: the worker's client in the browser, a plain object in tests. */
export type EnginePort = Omit<Engine, 'dispose'>;

/** Where the last job and the files of its sculpt are kept between sittings. */
export interface Shelf {
  load(): Promise<{ job: unknown; files: readonly SculptFile[] } | null>;
  saveSculpt(files: readonly SculptFile[], job: Job): Promise<void>;
  saveJob(job: Job): Promise<void>;
}

/** What the page asks of the browser around it. */
export interface Surroundings {
  tabs: TabLock;
  fetchDemo(): Promise<Blob>;
  download(name: string, file: Blob): void;
}
