/** Steps of the engine that a person can read. */
export type Step =
  | 'reading'
  | 'welding'
  | 'auditing'
  | 'mending'
  | 'examining'
  | 'cutting'
  | 'jointing'
  | 'checking'
  | 'proving'
  | 'writing';

/** Told how far a step is, 0 to 1. */
export type OnProgress = (step: Step, done: number) => void;

/** What became of having finished parts proved: proved, or the first reason why not all of them were. */
export type Proving = 'proved' | 'too-big' | 'overlaps' | 'not-loaded' | 'crashed' | 'timed-out';
