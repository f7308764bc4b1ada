/** A side of a seam. */
export type Side = 'front' | 'back';

/** What a seam divides: the whole sculpt, or one side of an earlier seam. */
export type PartRef = { of: 'sculpt' } | { of: 'seam'; seamId: string; side: Side };

export const SCULPT: PartRef = { of: 'sculpt' };

/** A part as a job writes it: "sculpt", or "<seam id>.front" and "<seam id>.back". */
export const partId = (ref: PartRef): string =>
  ref.of === 'sculpt' ? 'sculpt' : `${ref.seamId}.${ref.side}`;

/** The same read; null for anything else. */
export function partRef(id: string): PartRef | null {
  if (id === 'sculpt') return SCULPT;
  const [, seamId, side] = /^(.+)\.(front|back)$/s.exec(id) ?? [];
  return seamId === undefined ? null : { of: 'seam', seamId, side: side as Side };
}
