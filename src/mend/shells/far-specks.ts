import { NOWHERE, widen } from '../triangles/flat-boxes.ts';
import type { ShellBlocks } from './shell-blocks.ts';

/** Small shells that lie so far from the rest that they make the figure seem larger. */
export interface FarSpecks {
  count: number;
  /** Longest side of the figure's box without its small shells, and with them, mm. */
  sizeMm: number;
  withMm: number;
  /** Dropping shells whose box has a shorter diagonal takes them away, mm. */
  belowMm: number;
}

/** A shell is small whose box has a diagonal below this share of the largest shell's. */
const SMALL = 0.05;
/** The figure seems larger where its longest side grows by more than this factor. */
const GROWN = 1.25;

/** Small shells beside the box of all others that make the figure's longer by a quarter; null where there are none. */
export function findFarSpecks({ boxes, shellCount }: ShellBlocks): FarSpecks | null {
  const diagonals = Float64Array.from({ length: shellCount }, (_, s) => diagonalOf(boxes, s));
  const small = SMALL * diagonals.reduce((most, d) => Math.max(most, d), 0);
  const rest = Float32Array.from(NOWHERE);
  const all = Float32Array.from(NOWHERE);
  diagonals.forEach((diagonal, s) => {
    widen(all, 0, boxes, s * 6, s * 6 + 3);
    if (diagonal >= small) widen(rest, 0, boxes, s * 6, s * 6 + 3);
  });
  const [sizeMm, withMm] = [longestOf(rest), longestOf(all)];
  if (!(withMm > GROWN * sizeMm)) return null;
  const far = [...diagonals.keys()].filter((s) => diagonals[s] < small && isBeyond(rest, boxes, s * 6));
  const largest = far.reduce((most, s) => Math.max(most, diagonals[s]), 0);
  return { count: far.length, sizeMm, withMm, belowMm: roundUp(largest) };
}

const diagonalOf = (boxes: Float32Array, s: number): number =>
  Math.hypot(...[0, 1, 2].map((k) => boxes[s * 6 + 3 + k] - boxes[s * 6 + k]));

const longestOf = (box: Float32Array): number => Math.max(box[3] - box[0], box[4] - box[1], box[5] - box[2]);

const isBeyond = (rest: Float32Array, boxes: Float32Array, at: number): boolean =>
  [0, 1, 2].some((k) => boxes[at + k] < rest[k] || boxes[at + 3 + k] > rest[k + 3]);

/** To two figures, a little more than it is. */
function roundUp(mm: number): number {
  const step = 10 ** (Math.floor(Math.log10(Math.max(mm, 1e-5))) - 1);
  return Number(((Math.floor(mm / step) + 1) * step).toPrecision(2));
}
