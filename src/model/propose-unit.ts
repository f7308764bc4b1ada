import { MM_PER_UNIT, type Unit } from './units.ts';

/** Longest side of a figure that somebody would print or scale down from: a small miniature to a life-size sculpt, mm. */
const PLAUSIBLE_MM = [20, 2500] as const;

/** Commonest first, by common practice: mm where people print, metres and centimetres where they animate. */
const COMMON: readonly Unit[] = ['mm', 'm', 'cm', 'inch', 'foot', 'micron'];

/**
 * The unit that makes a figure plausible: the commonest in which its longest side is, else the one that comes nearest.
 * @param sizeInFileUnits sides of its box, in the file's own numbers.
 */
export function proposeUnit(sizeInFileUnits: readonly number[]): Unit {
  const longest = Math.max(...sizeInFileUnits);
  if (!(longest > 0)) return 'mm';
  let best: Unit = 'mm';
  let least = Number.POSITIVE_INFINITY;
  for (const unit of COMMON) {
    const off = offBy(longest * MM_PER_UNIT[unit]);
    if (off < least) [best, least] = [unit, off];
  }
  return best;
}

/** By what factor a length misses the plausible ones; 1 within them. */
const offBy = (mm: number): number => Math.max(PLAUSIBLE_MM[0] / mm, mm / PLAUSIBLE_MM[1], 1);
