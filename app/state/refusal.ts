import type { ErrorRecord } from '../../src/index.ts';

/** The plain record behind anything an engine call rejected with. */
export function asErrorRecord(thrown: unknown): ErrorRecord {
  const seen = thrown as { code?: unknown; facts?: unknown; message?: unknown } | null;
  if (typeof seen?.code === 'string' && typeof seen.facts === 'object') return seen as ErrorRecord;
  return { code: 'internal', facts: { reason: String(seen?.message ?? thrown) } };
}
