import type { Vec3 } from '../math/vec3.ts';
import type { SeamSpec, SheetSpec } from './seam-schema.ts';

/** Seams swept from a line. */

/** A seam by a line swept along a direction, through all that it meets. */
export const sheetSeam = (
  line: readonly Vec3[],
  along: Vec3,
  runs: SheetSpec['runs'] = 'straight',
): SheetSpec => ({
  kind: 'sheet',
  line: [...line],
  along,
  runs,
});

/** The line of a seam that is swept from one, and how; null for one that is not. */
export function sweptLine(by: SeamSpec): SweptLine | null {
  if (by.kind !== 'sheet') return null;
  const { line, along, runs, flats = [] } = by;
  return { line, along, runs, flats };
}

/** A line that a seam is swept from, and how. */
export interface SweptLine {
  line: readonly Vec3[];
  along: Vec3;
  runs: SheetSpec['runs'];
  flats: readonly { at: Vec3; widthMm: number }[];
}

/** The seam swept from another line, or swept from one from here on; outlines that were meant are where they are. */
export function withLine(by: SeamSpec, patch: Partial<SweptLine>): SeamSpec {
  const { line, along, runs, flats } = { ...sweptLine(by), ...patch };
  if (!line || !along) return by;
  const { through } = by.kind === 'sheet' ? by : {};
  return {
    ...sheetSeam(line, along, runs),
    ...(flats && flats.length > 0 && { flats: [...flats] }),
    ...(through && { through }),
  };
}
