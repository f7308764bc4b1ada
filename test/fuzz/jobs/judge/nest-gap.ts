import type { JobDocument } from '../generate.ts';
import type { NestPlan } from '../scenarios.ts';
import { type Fault, fault } from './fault.ts';
import type { PartFile } from './part.ts';
import { bodyFile, flatOf, givesWay } from './plain-parts.ts';
import { centreOf, nearestFrom, normalOf, surfaceOf, type Triangle } from './triangle.ts';
import { cross, dot, minus, type Point } from './vectors.ts';

/** A gap may be off by this, mm. */
const SLACK = 0.01;
/** How far in from the outer edge a gap closes where a job does not say, mm. */
const USUAL_RIM_MM = 1;
/** What lies no farther off a body's own surface is of it, mm. */
const ON_SURFACE = 1e-3;

/** The gaps between nested bodies, from places of the one that stays whole, farther inside the other than the gap closes. */
export const nestGapFaults = (
  job: JobDocument,
  figure: PartFile,
  parts: readonly PartFile[],
  centre: Point,
): Fault[] =>
  job.seams.flatMap(({ id, by, names }) => {
    if (by.kind !== 'contact' || by.nestGapMm === 0) return [];
    const gives = givesWay(by, figure);
    const keeps = gives === 'front' ? 'back' : 'front';
    const partOf = (side: 'front' | 'back') => parts.find(({ name }) => name === names[side]);
    const [giver, keeper] = [partOf(gives), partOf(keeps)];
    if (!giver || !keeper) return [];
    const step = giver.stepMm + keeper.stepMm + figure.stepMm;
    const { min, max } = spreadOf(by, figure, giver, keeper, keeps, centre);
    if (min >= by.nestGapMm - SLACK - 2 * step && max <= by.nestGapMm + SLACK + 2 * step) return [];
    return [fault('nest-gap', [id], `${min} to ${max} between them, ${by.nestGapMm} asked`)];
  });

function spreadOf(
  by: NestPlan,
  figure: PartFile,
  giver: PartFile,
  keeper: PartFile,
  keeps: 'front' | 'back',
  centre: Point,
): { min: number; max: number } {
  const { nestGapMm, rimMm = USUAL_RIM_MM } = by;
  const deep = rimMm + nestGapMm;
  const [whole, other] = keeps === 'front' ? [0, 1] : [1, 0];
  const around = bodyFile(figure, by.bodies[other]).triangles;
  const toAround = nearestFrom(surfaceOf(around), deep);
  const toWhole = nearestFrom(surfaceOf(bodyFile(figure, by.bodies[whole]).triangles), 1);
  const toGiver = nearestFrom(surfaceOf(giver.triangles), 2 * nestGapMm + 1);
  const flat = by.flat && flatOf(by, figure, centre);
  const side = keeps === 'front' ? 1 : -1;
  const isDeep = (p: Point) =>
    (!flat || side * (dot(flat.normal, p) - flat.offsetMm) > deep) &&
    (toWhole(p)?.mm ?? 1) < ON_SURFACE &&
    toAround(p) === null &&
    isInside(around, p);
  let [min, max] = [Infinity, -Infinity];
  for (const t of keeper.triangles) {
    if (Math.hypot(...normalOf(t)) === 0) continue;
    for (const p of [...t, centreOf(t)]) {
      if (!isDeep(p)) continue;
      const mm = toGiver(p)?.mm ?? Infinity;
      min = Math.min(min, mm);
      max = Math.max(max, mm);
    }
  }
  return min > max ? { min: nestGapMm, max: nestGapMm } : { min, max };
}

/** By the solid angle under which a body is seen (Van Oosterom and Strackee, 1983). */
function isInside(body: readonly Triangle[], p: Point): boolean {
  let half = 0;
  for (const t of body) {
    const [a, b, c] = t.map((corner) => minus(corner, p));
    const [la, lb, lc] = [a, b, c].map((v) => Math.hypot(...v));
    half += Math.atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return half > Math.PI;
}
