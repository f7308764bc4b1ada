import type { SeamBy } from '../generate.ts';
import type { ReportedPeg } from './report.ts';
import { cross, dot, minus, type Point, times, unit } from './vectors.ts';

/** A plane as a seam has it, in the file's coordinates; its unit normal to the front. */
export interface SeamPlane {
  normal: Point;
  offsetMm: number;
}

/** The planes that a job gives a seam's faces; none where it says none. */
function planesOf(by: SeamBy): SeamPlane[] {
  const through = (normal: Point, at: Point) => ({ normal, offsetMm: dot(normal, at) });
  if (by.kind === 'plane') return [{ normal: unit(by.normal), offsetMm: by.offsetMm }];
  if (by.kind === 'contact') return by.flat ? [through(unit(by.flat.normal), by.flat.at)] : [];
  // The front lies left of a run, seen against the way it is swept.
  return by.line.slice(1).map((to, i) => through(unit(cross(by.along, minus(to, by.line[i]))), by.line[i]));
}

/** The plane that a peg stands on: the nearest of those it stands square to; its own where a job says none. */
export function planeUnder(by: SeamBy, { at, axis }: ReportedPeg, pegOn: 'front' | 'back'): SeamPlane {
  const planes = planesOf(by);
  if (by.kind === 'plane') return planes[0];
  const toFront = times(unit(axis), pegOn === 'back' ? 1 : -1);
  // A flat is given without a front.
  const square = planes.map((plane) =>
    by.kind === 'contact' && dot(plane.normal, toFront) < 0
      ? { normal: times(plane.normal, -1), offsetMm: -plane.offsetMm }
      : plane,
  );
  const off = ({ normal, offsetMm }: SeamPlane) => Math.abs(dot(normal, at) - offsetMm);
  const under = square.filter(({ normal }) => dot(normal, toFront) > 0.9999);
  if (under.length === 0) return { normal: toFront, offsetMm: dot(toFront, at) };
  return under.reduce((a, b) => (off(b) < off(a) ? b : a));
}
