import { smoothMin, smoothStep } from './sdf.ts';

/** Axis-aligned box: least x, y, z, then greatest, mm. */
export type Box = readonly [number, number, number, number, number, number];

/** One limb of a shell: a smooth body, and the relief carved on it. */
export interface Part {
  /** Holds the smooth body; distances are not asked for far outside it. */
  box: Box;
  /** Over how many mm the part melts into the parts before it. */
  blendMm: number;
  /** Signed distance to the smooth body, mm. */
  distance(x: number, y: number, z: number): number;
  /** Height of the relief above the smooth body near this point, mm, within ±RELIEF_REACH_MM. */
  relief?(x: number, y: number, z: number): number;
}

/** A shell as signed distances: without relief, and with it. */
export interface Field {
  box: Box;
  smooth(x: number, y: number, z: number): number;
  detailed(x: number, y: number, z: number): number;
}

/** No relief is higher or deeper than this; farther from the smooth body it is not evaluated. */
export const RELIEF_REACH_MM = 1.8;

/** Distance from a box, 0 inside it: a lower bound for whatever the box holds. */
export function boxDistance(box: Box, x: number, y: number, z: number): number {
  const dx = Math.max(box[0] - x, x - box[3], 0);
  const dy = Math.max(box[1] - y, y - box[4], 0);
  const dz = Math.max(box[2] - z, z - box[5], 0);
  return Math.sqrt(dx * dx + dy * dy + dz * dz);
}

/** A part's relief sinks to nothing over this many mm towards where another part begins. */
const RELIEF_FADE_MM = 1.3;

/**
 * The smooth union of parts, in order. A part whose box is farther than the union so far plus its
 * blend cannot change the answer and is skipped, which is exact because `smoothMin` is local.
 * Relief is that of the nearest part; it fades where two parts meet, so that reliefs do not run into
 * each other in the crease.
 */
export function uniteParts(parts: readonly Part[]): Field {
  const smooth = (x: number, y: number, z: number): number => {
    let d = 1e9;
    for (const part of parts) {
      if (boxDistance(part.box, x, y, z) > d + part.blendMm) continue;
      const g = part.distance(x, y, z);
      d = part.blendMm > 0 ? smoothMin(d, g, part.blendMm) : Math.min(d, g);
    }
    return d;
  };
  const detailed = (x: number, y: number, z: number): number => {
    let d = 1e9;
    let nearest = 1e9;
    let second = 1e9;
    let carrier: Part | null = null;
    for (const part of parts) {
      if (boxDistance(part.box, x, y, z) > d + Math.max(part.blendMm, RELIEF_FADE_MM)) continue;
      const g = part.distance(x, y, z);
      d = part.blendMm > 0 ? smoothMin(d, g, part.blendMm) : Math.min(d, g);
      if (g < nearest) carrier = part;
      second = Math.min(second, Math.max(nearest, g));
      nearest = Math.min(nearest, g);
    }
    if (!carrier?.relief || Math.abs(d) > 2 * RELIEF_REACH_MM) return d;
    return d - carrier.relief(x, y, z) * smoothStep(0.1, RELIEF_FADE_MM, second - nearest);
  };
  return { box: unionOf(parts.map((p) => p.box)), smooth, detailed };
}

function unionOf(boxes: Box[]): Box {
  const low = (k: number) => Math.min(...boxes.map((b) => b[k]));
  const high = (k: number) => Math.max(...boxes.map((b) => b[k]));
  return [low(0), low(1), low(2), high(3), high(4), high(5)];
}
