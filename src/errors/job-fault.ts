import type { OutlineFault } from './outline-fault.ts';

/** What is wrong with a field of a job. */
export type JobFault =
  | { is: 'missing' }
  | { is: 'type'; wanted: FieldType }
  | { is: 'below' | 'above'; limit: number; isIncluded: boolean }
  | { is: 'too-short' | 'too-long'; limit: number; counted: 'letters' | 'entries' }
  | { is: 'value'; known: readonly string[] }
  | { is: 'keys-unknown'; keys: readonly string[] }
  /** It may be one of several things and is none of them: what each of them has against it. */
  | { is: 'none-of'; each: readonly JobFault[] }
  | { is: 'outline'; why: OutlineFault }
  | { is: JobRule }
  | { is: 'other' };

export type FieldType = 'number' | 'text' | 'list' | 'fields' | 'yes-or-no';

/** What cannot be told by a field's type and bounds. */
export type JobRule = 'no-direction' | 'no-sweep' | 'no-turn' | 'id-shared' | 'one-body' | 'neither-body';
