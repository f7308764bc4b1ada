import { scramble } from './prng.ts';
import { bell, clamp01, smoothStep } from './sdf.ts';

/** How crisply feathers may be drawn, from the mesh that will carry them. */
export interface FeatherStyle {
  /** Width of the step at a feather's tip, in rows. */
  softRows: number;
  /** Half width of the groove between neighbours, in columns. */
  softColumns: number;
  /** Whether the mesh is fine enough for the barbs. */
  barbs: boolean;
}

const jitter = (row: number, column: number): number =>
  scramble(row * 7919 + column * 104729) / 4294967296 - 0.5;

/**
 * Overlapping feathers laid like shingles: `u` counts rows from the front, `v` columns across.
 * Every row lies on the one behind it. Answers a height of about 0…1.
 */
export function featherHeight(u: number, v: number, style: FeatherStyle): number {
  const row = Math.floor(u) - 1;
  const onTop = oneFeather(row, u, v, style);
  const beneath = oneFeather(row + 1, u, v, style);
  return beneath.height + (onTop.height - beneath.height) * smoothStep(-style.softRows, 0, onTop.toTip);
}

function oneFeather(
  row: number,
  u: number,
  v: number,
  style: FeatherStyle,
): { height: number; toTip: number } {
  const shift = row & 1 ? 0.5 : 0;
  const column = Math.round(v - shift);
  const w = v - shift - column;
  const tip = row + 1.42 - 1.5 * w * w + 0.14 * jitter(row, column);
  const toTip = tip - u;
  const along = clamp01((u - row) / (tip - row));
  let height =
    0.25 +
    0.75 * along -
    0.6 * w * w -
    0.3 * bell(Math.abs(w) - 0.5, style.softColumns) +
    0.14 * bell(w, 0.07) * along;
  if (style.barbs)
    height += 0.05 * Math.sin(38 * (u - row) - 60 * Math.abs(w)) * smoothStep(0.04, 0.12, Math.abs(w));
  return { height: height + 0.1 * jitter(column, row), toTip };
}
