import type { ErrorRecord, Job, Notice } from '../../src/index.ts';
import type { Message } from './bench-state.ts';

/** The plain record behind anything an engine call rejected with. */
export function asErrorRecord(thrown: unknown): ErrorRecord {
  const seen = thrown as { code?: unknown; facts?: unknown; message?: unknown } | null;
  if (typeof seen?.code === 'string' && typeof seen.facts === 'object') return seen as ErrorRecord;
  return { code: 'internal', facts: { reason: String(seen?.message ?? thrown) } };
}

/** What to tell of it, beside a job; where somebody stopped the work, `stopped`. */
export function refusalMessage(thrown: unknown, stopped: Notice, job: Job): Message {
  const record = asErrorRecord(thrown);
  return record.code === 'cancelled'
    ? { tone: 'info', said: stopped, job }
    : { tone: 'error', said: record, job };
}
