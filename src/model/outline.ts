import type { OutlineFault } from '../errors/outline-fault.ts';
import { isSimpleOutline } from '../math/simple-outline.ts';
import { readSvgPath } from '../math/svg-path.ts';
import type { Vec2 } from '../math/vec3.ts';
import { LIMITS } from './limits.ts';

/** A closed outline by its corners in the joint's own frame, mm; the last is joined to the first. */
export type Outline = readonly Vec2[];

/** An outline, or what is wrong with what should be one. */
export type ReadOutline = { outline: Outline } | { fault: OutlineFault };

/** A curve of a drawing is taken as straight pieces no farther from it than this, mm. */
export const CURVE_CHORD_MM = 0.005;

/** What is wrong with an outline, null for a sound one. A last corner on the first one is the first again. */
export function outlineFault(outline: Outline): OutlineFault | null {
  const corners = isSame(outline[0], outline.at(-1)) ? outline.slice(0, -1) : outline;
  const [least, most] = LIMITS.outlineCorners;
  if (corners.length < least) return { is: 'too-few', corners: corners.length, limit: least };
  if (corners.length > most) return { is: 'too-many', corners: corners.length, limit: most };
  const { min, max } = extentOf(corners);
  const across = Math.min(max[0] - min[0], max[1] - min[1]);
  if (!(across >= LIMITS.pegWidthMm[0])) return { is: 'too-small', mm: across, limit: LIMITS.pegWidthMm[0] };
  const reach = Math.max(...[...min, ...max].map(Math.abs));
  if (!(reach <= LIMITS.outlineReachMm)) return { is: 'too-far', mm: reach, limit: LIMITS.outlineReachMm };
  return isSimpleOutline(corners) ? null : { is: 'crossed' };
}

/** The outline of an SVG path, one unit a millimetre: its y axis looks down there, and its middle comes onto the joint's axis. */
export function outlineOfPath(data: string): ReadOutline {
  const read = readSvgPath(data, CURVE_CHORD_MM);
  if ('wrongAt' in read) return { fault: { is: 'path', at: read.wrongAt } };
  return outlineOfRuns(read.runs);
}

/** The outline of a drawing's runs in mm, y down: of the only one that has an area. */
export function outlineOfRuns(runs: readonly (readonly Vec2[])[]): ReadOutline {
  const closed = runs.map(withoutRepeats).filter((run) => run.length >= 3);
  const [only] = closed;
  if (only === undefined) return { fault: { is: 'none' } };
  if (closed.length > 1) return { fault: { is: 'several', count: closed.length } };
  const { min, max } = extentOf(only);
  const [x, y] = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2];
  const outline = withoutRepeats(only.map((at): Vec2 => [tidy(at[0] - x), tidy(y - at[1])]));
  const fault = outlineFault(outline);
  return fault ? { fault } : { outline };
}

/** An outline as the data of an SVG path, one unit a millimetre, y down. */
export const pathOfOutline = (outline: Outline): string =>
  `M${outline.map(([x, y]) => `${tidy(x)} ${tidy(-y)}`).join('L')}Z`;

/** Outlines are written to this part of a millimetre. */
const PER_MM = 1e4;

/** A coordinate as it is written, mm. */
export const tidy = (mm: number): number => Math.round(mm * PER_MM) / PER_MM + 0;

const isSame = (a: Vec2 | undefined, b: Vec2 | undefined): boolean =>
  a !== undefined && b !== undefined && a !== b && a[0] === b[0] && a[1] === b[1];

const withoutRepeats = (run: readonly Vec2[]): Vec2[] =>
  run.filter(([x, y], i) => {
    const [nx, ny] = run[(i + 1) % run.length]!;
    return x !== nx || y !== ny;
  });

function extentOf(points: readonly Vec2[]): { min: Vec2; max: Vec2 } {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { min: [Math.min(...xs), Math.min(...ys)], max: [Math.max(...xs), Math.max(...ys)] };
}
