import type { Peg, Process } from '../model/job.ts';
import type { ResolvedPeg } from '../model/resolved-peg.ts';
import { socketReach, taperFault } from './taper.ts';

/** A peg's sizes, without its place. */
export type PegShape = Omit<ResolvedPeg, 'at' | 'kind'>;

/** Draft per side that holds and still comes free; common practice. */
const DRAFT_DEG = 6;
/** Edges are rounded by this share of the width, and no more than the millimetres (common practice). */
const EDGE_SHARE = 0.14;
const EDGE_MAX_MM = 0.8;
/** A peg takes about this share of the free circle's radius as its width: room for the walls on both sides. */
const WIDTH_SHARE = 0.9;

/**
 * The sizes of a peg of a given width: what the person set stays, the rest follows.
 * A peg is about as long as it is wide (common practice).
 */
export function pegShape(peg: Peg, process: Process, widthMm: number, lengthShare = 1): PegShape {
  const width = peg.widthMm ?? widthMm;
  const height = peg.heightMm ?? width;
  const narrow = Math.min(width, height);
  return {
    widthMm: width,
    heightMm: height,
    lengthMm: peg.lengthMm ?? narrow * lengthShare,
    draftDeg: peg.draftDeg ?? DRAFT_DEG,
    edgeRadiusMm: peg.edgeRadiusMm ?? Math.min(EDGE_MAX_MM, EDGE_SHARE * narrow),
    spinDeg: peg.spinDeg ?? 0,
    sideGapMm: peg.sideGapMm ?? process.sideGapMm,
    endGapMm: peg.endGapMm ?? process.endGapMm,
  };
}

/** The width (mm) a peg takes in a free circle of this radius so that the process's wall is left around its socket. */
export function widthFor(peg: Peg, process: Process, radius: number): number {
  let low = 0;
  let high = radius * WIDTH_SHARE;
  const fits = (width: number) => socketReach(pegShape(peg, process, width)) <= radius - process.minWallMm;
  if (fits(high)) return high;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** The narrowest a peg may be at its tip: as thick as the wall the process asks for, and makeable. */
export function isPrintable(shape: PegShape, process: Process): boolean {
  return taperFault(shape) === null && tipOf(shape) >= process.minWallMm;
}

/** How thick a peg is at its tip, mm; less than nothing where its draft closes before. */
export const tipOf = ({ widthMm, heightMm, lengthMm, draftDeg }: PegShape): number =>
  Math.min(widthMm, heightMm) - 2 * lengthMm * Math.tan((draftDeg * Math.PI) / 180);

/** Wider than any peg is, mm. */
const WIDEST_MM = 1000;

/** The least width a peg of these settings may have at the face, mm; null where none would do. */
export function leastWidth(peg: Peg, process: Process): number | null {
  for (let width = process.minWallMm || 0.1; width < WIDEST_MM; width *= 1.02)
    if (isPrintable(pegShape(peg, process, width), process)) return width;
  return null;
}
