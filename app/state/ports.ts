import type { StoreApi } from 'zustand/vanilla';
import type { Job } from '../../src/index.ts';
import type { Engine } from '../../src/worker/client.ts';
import type { BenchState } from './bench-state.ts';

export type BenchStore = StoreApi<BenchState>;

/** What the page needs of the engine: the worker's client in the browser, a plain object in tests. */
export type EnginePort = Omit<Engine, 'dispose' | 'health'>;

/** Where the last job and its sculpt are kept between sittings. */
export interface Shelf {
  load(): Promise<{ job: unknown; blob: Blob; name: string } | null>;
  saveSculpt(blob: Blob, name: string, job: Job): Promise<void>;
  saveJob(job: Job): Promise<void>;
}

/** What the page asks of the browser around it. */
export interface Surroundings {
  fetchDemo(): Promise<Blob>;
  download(name: string, file: Blob): void;
}
