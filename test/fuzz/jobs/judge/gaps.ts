import { type Fault, fault } from './fault.ts';
import type { FoundJoint } from './joints.ts';
import {
  boxOf,
  centreOf,
  near,
  nearestFrom,
  nearestOn,
  normalOf,
  surfaceOf,
  type Triangle,
} from './triangle.ts';
import { dot, minus, type Point, plus, times } from './vectors.ts';

/** A gap may be off by this, mm. */
const SLACK = 0.01;

/** With less than this between them no printed peg goes into its socket, mm. */
const TIGHT = 0.008;

/** The gap of a joint, by samples on the peg in its file and distances to the other file's surface. */
export function gapFaults(joint: FoundJoint): Fault[] {
  const { seamId, peg, pegTriangles, socketPart, pegPart } = joint;
  const { sideGapMm, endGapMm } = peg.asked;
  if (!pegPart) return [fault('peg-missing', [seamId], `no peg in the files at ${peg.at.join()}`)];
  if (!socketPart) return [fault('gap-side', [seamId], 'no socket about the peg in the files')];
  const slack = SLACK + 2 * (pegPart.stepMm + socketPart.stepMm);
  const faults: Fault[] = [];
  const side = sideSpread(joint, sideGapMm + endGapMm + 1);
  const least = Math.min(sideGapMm, endGapMm);
  if (side.any < least - slack) {
    faults.push(fault('gap-side', [seamId], `${side.any} between peg and socket, ${least} asked`));
  } else if (side.min < sideGapMm - slack || side.max > sideGapMm + slack) {
    faults.push(fault('gap-side', [seamId], `${side.min} to ${side.max} at the side, ${sideGapMm} asked`));
  }
  const end = endSpread(joint, pegTriangles, socketPart.triangles);
  if (end.min < endGapMm - slack || end.max > endGapMm + slack)
    faults.push(fault('gap-end', [seamId], `${end.min} to ${end.max} at the end, ${endGapMm} asked`));
  const tightest = Math.min(side.any, end.min);
  if (tightest < TIGHT)
    faults.push(fault('tight', [seamId], `${tightest} between peg and socket: it cannot go in`));
  return faults;
}

function sideSpread({ peg, axis, foot, pegTriangles, socketPart }: FoundJoint, far: number) {
  const others = near(socketPart?.triangles ?? [], boxOf(pegTriangles.flat(), far));
  const nearest = nearestFrom(surfaceOf(others), far);
  const steepest = Math.sin((peg.draftDeg * Math.PI) / 180) + 2e-3;
  const { sideGapMm, endGapMm } = peg.asked;
  // Above it the socket's side may have ended already, where the end gap is the lesser.
  const top = peg.lengthMm - peg.edgeRadiusMm - Math.max(0, sideGapMm - endGapMm) * 1.5 - 1e-3;
  let [any, min, max] = [Infinity, Infinity, -Infinity];
  for (const t of pegTriangles) {
    const lean = dot(normalOf(t), axis);
    for (const p of samplesOf(t)) {
      const mm = nearest(p)?.mm ?? far;
      any = Math.min(any, mm);
      if (lean > steepest) continue;
      if (endGapMm >= sideGapMm) min = Math.min(min, mm);
      if (dot(minus(p, foot), axis) <= top) max = Math.max(max, mm);
    }
  }
  return { any, min, max };
}

/** Along the axis from the middle of the tip, and from halfway to its corners. */
function endSpread({ axis }: FoundJoint, pegTriangles: readonly Triangle[], others: readonly Triangle[]) {
  const tip = pegTriangles.filter((t) => dot(normalOf(t), axis) > 0.9999).flat();
  let [min, max] = [Infinity, -Infinity];
  if (tip.length === 0) return { min, max };
  const ends = others.filter((t) => dot(normalOf(t), axis) < -0.99);
  const middle = times(tip.reduce(plus), 1 / tip.length);
  for (const p of [middle, ...[...new Set(tip)].map((c) => times(plus(c, middle), 0.5))]) {
    const mm = ahead(ends, p, axis);
    min = Math.min(min, mm);
    max = Math.max(max, mm);
  }
  return { min, max };
}

/** How far ahead along the axis the next of the surfaces is, mm; Infinity where none is. */
function ahead(ends: readonly Triangle[], from: Point, axis: Point): number {
  let mm = Infinity;
  for (const t of ends) {
    const n = normalOf(t);
    const d = dot(minus(t[0], from), n) / dot(n, axis);
    if (d < -0.5 || d >= mm) continue;
    const at = plus(from, times(axis, d));
    if (nearestOn(surfaceOf([t]), at, 1e-4)) mm = d;
  }
  return mm;
}

const samplesOf = (t: Triangle): Point[] => {
  const c = centreOf(t);
  return [...t, c];
};
