import type { StoreApi } from 'zustand/vanilla';
import type {
  DisplayMesh,
  EvaluationView,
  FaceResult,
  Focus,
  Job,
  OnProgress,
  SculptSummary,
  Unit,
  Vec3,
} from '../../src/index.ts';
import type { BenchState } from './bench-state.ts';

export type BenchStore = StoreApi<BenchState>;

/** What the page needs of the engine: the worker's client in the browser, a plain object in tests. */
export interface EnginePort {
  open(
    file: Blob,
    name: string,
    options: { unit: Unit; scale: number },
    onProgress: OnProgress,
  ): Promise<{ summary: SculptSummary; mesh: DisplayMesh }>;
  evaluate(job: Job, focus: Focus | null, onProgress: OnProgress): Promise<EvaluationView | 'superseded'>;
  outline(seamId: string, normal: Vec3, offsetMm: number): Promise<FaceResult | 'superseded'>;
  export(job: Job, partId: string | null, onProgress: OnProgress): Promise<{ name: string; file: Blob }>;
  cancel(): void;
  onCrash(listener: () => void): void;
}

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
