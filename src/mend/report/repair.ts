/** Every kind of change that mending makes. */
export type RepairCode =
  | 'vertices-welded'
  | 'rims-joined'
  | 'degenerate-dropped'
  | 'duplicates-dropped'
  | 'doubled-skin-dropped'
  | 'edges-split'
  | 'vertices-split'
  | 'turned-coherent'
  | 'turned-outward'
  | 'holes-filled'
  | 'specks-dropped'
  | 'shells-united'
  | 're-skinned';

/** One kind of change made to a mesh that was read, and how much it touched. */
export interface Repair {
  code: RepairCode;
  /** Triangles, or what the code names. */
  count: number;
  /** Change of the volume, where shape changed; an open surface counts with the cone to the middle of its box. */
  volumeChangeMm3?: number;
  /** How far, at most, new surface lies from old, where shape changed. */
  deviationMm?: number;
  /** New triangles that cross others, where a fill could not avoid it. */
  crossings?: number;
}

/** Adds a repair to a record, to the earlier one of its code where there is one; nothing where nothing changed. */
export function note(repairs: Repair[], repair: Repair): void {
  if (repair.count === 0) return;
  const earlier = repairs.find(({ code }) => code === repair.code);
  if (!earlier) {
    repairs.push(repair);
    return;
  }
  earlier.count += repair.count;
  if (repair.volumeChangeMm3 !== undefined)
    earlier.volumeChangeMm3 = (earlier.volumeChangeMm3 ?? 0) + repair.volumeChangeMm3;
  if (repair.deviationMm !== undefined)
    earlier.deviationMm = Math.max(earlier.deviationMm ?? 0, repair.deviationMm);
  if (repair.crossings !== undefined) earlier.crossings = (earlier.crossings ?? 0) + repair.crossings;
}
