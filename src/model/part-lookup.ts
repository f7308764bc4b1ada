import { knownId } from './part-ref.ts';

/** What parts are called while seams are applied one after the other. */
export interface PartLookup {
  /** The id of the part that a job means: a body may go by its number, a part that a seam joined by what it was before. */
  idOf(named: string): string;
  /** A part that goes by another id from here on: that of its side of the seam which joined it to another. */
  rename(from: string, to: string): void;
}

/** A lookup among a sculpt's bodies of these names ('' for none). */
export function partLookup(names: readonly string[]): PartLookup {
  const renamed = new Map<string, string>();
  return {
    idOf(named) {
      let id = knownId(named, names);
      for (let next = renamed.get(id); next !== undefined; next = renamed.get(id)) id = next;
      return id;
    },
    rename: (from, to) => void renamed.set(from, to),
  };
}
