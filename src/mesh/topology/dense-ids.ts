import { PairTable } from './pair-table.ts';

/** Ids numbered 0, 1, 2, …, so that what hangs on them can stand in arrays. */
export interface DenseIds {
  /** The number of each id, place for place. */
  numbers: Uint32Array;
  /** One more than the greatest number. */
  count: number;
}

/**
 * Numbers ids. Those from `first` on stand close together already (a crossing's cut vertices do) and are only shifted;
 * the others, few in a crossing, are looked up.
 */
export function denseIds(ids: Uint32Array, first: number, end: number): DenseIds {
  const shifted = end - first;
  const numbers = new Uint32Array(ids.length);
  let table: PairTable | null = null;
  for (let i = 0; i < ids.length; i++) {
    const id = ids[i];
    if (id >= first) numbers[i] = id - first;
    else {
      table ??= new PairTable(first === end ? ids.length / 2 : 0);
      numbers[i] = shifted + table.number(id, 0);
    }
  }
  return { numbers, count: shifted + (table?.count ?? 0) };
}
