import { type Quaternion, turnOnto } from '../math/quaternion.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, scale, sub, type Vec3 } from '../math/vec3.ts';
import type { Bounds } from '../mesh/measure.ts';
import { farthestAlong } from '../mesh/near/farthest.ts';
import type { Part } from '../mesh/part/part.ts';
import { Corners, type Farthest, overAlong, type Span, spanAlong, spanOfBox } from './bed/corners.ts';
import { type Axis, type BedAxes, excessOf, NO_EXCESS, type Stand, standsOn } from './bed/stands.ts';
import { type FoundTurn, searchTurn } from './bed/turn-search.ts';

/** How a part does on the bed in its best turn: lengths mm. */
export interface BedFit {
  /** As it stands, or spun a quarter turn where it stands; only when it is turned; or in no turn that was found. */
  fits: 'standing' | 'turned' | 'not';
  /** Brings the part, as it lies in its file, into the bed; the least turn that does the same to the bed. */
  turn: Quaternion;
  /** The part's own axis that is upright then; null where it leans. */
  up: Axis | null;
  /** The most by which it passes the bed then, measured on the part, along the bed's `axis`; 0 where it fits. */
  overMm: number;
  axis: Axis;
  /** No turn whatever has less too much than `overMm` less this; 0 where it fits. */
  withinMm: number;
  /** Middle of the bed's volume where it is put around the part that stays where it is, its floor touching; the part's coordinates. */
  middleMm: Vec3;
}

/** Directions looked along at most: a few tenths of a second for a part that nearly fits in many turns; and between two moves of a hand. */
const MOST_LOOKS = 12_000;
const HASTY_LOOKS = 120;

/** What a turn that was not found may do better by: nothing that would be seen of a print, or a small share of what is too much. */
const enoughMm = (overMm: number): number => Math.max(TOLERANCES.bedTurn, overMm / 10);

/** True where looking longer might tell more. */
export const isLoose = ({ overMm, withinMm }: Pick<BedFit, 'overMm' | 'withinMm'>): boolean =>
  withinMm > enoughMm(overMm);

/**
 * How a part of these bounds does on the bed: as it stands, on another side, and only then in any turn. In haste it is
 * looked for less long, from where it was found last: what is told is as true, but may be looser.
 */
export function fitOnBed(
  part: Part,
  bounds: Bounds,
  bedMm: Vec3,
  isHasty = false,
): { asItIs: Stand; fit: BedFit } {
  const { asItIs, best } = standsOn(sub(bounds.max, bounds.min), bedMm);
  const inBox = (axis: Vec3) => spanOfBox(bounds, axis);
  if (asItIs.overMm === 0) return { asItIs, fit: fitIn(inBox, bedMm, asItIs.on, 'standing', asItIs.up) };
  if (best.overMm === 0) return { asItIs, fit: fitIn(inBox, bedMm, best.on, 'turned', best.up) };
  const farthest = (direction: Vec3) => farthestAlong(part, direction) ?? bounds.min;
  const found = foundTurn(part, farthest, bedMm, best.on, isHasty);
  const up = found.axes.every((axis, k) => axis === best.on[k]) ? best.up : null;
  const fits = found.overMm <= NO_EXCESS ? 'turned' : 'not';
  const withinMm = fits === 'not' ? found.overMm - found.leastMm : 0;
  const onPart = (axis: Vec3) => spanAlong(farthest, axis);
  return { asItIs, fit: { ...fitIn(onPart, bedMm, found.axes, fits, up), withinMm } };
}

/** What was found for a part whose largest patch has these triangles, and of which corners. */
const known = new WeakMap<Uint32Array, { bedMm: Vec3; corners: Corners; found: FoundTurn }>();

/**
 * The best turn of a part that fits on no side. One that has all the corners by which it was found for another, and sticks
 * out by no more, is as that: where a joint is changed the skin stays, and most joints are well inside.
 */
function foundTurn(part: Part, farthest: Farthest, bedMm: Vec3, side: BedAxes, isHasty: boolean): FoundTurn {
  const { triangles } = part.patches.reduce((a, b) => (b.triangles.length > a.triangles.length ? b : a));
  const last = known.get(triangles);
  const isSameBed = last?.bedMm.every((mm, k) => mm === bedMm[k]);
  if (last && isSameBed && last.corners.areOf(farthest)) {
    if (overAlong(farthest, last.found.axes, bedMm) <= last.found.overMm) return last.found;
  }
  const corners = new Corners(farthest);
  if (isHasty) {
    const first = last ? ([side, last.found.axes] as const) : ([side] as const);
    return searchTurn(corners, { bedMm, first, enoughMm, mostLooks: HASTY_LOOKS });
  }
  // Not from where a hand came by: what is kept does not depend on that.
  const found = searchTurn(corners, { bedMm, first: [side], enoughMm, mostLooks: MOST_LOOKS });
  known.set(triangles, { bedMm, corners, found });
  return found;
}

/** The fit with the bed along these axes of the part. */
function fitIn(
  spanOn: (axis: Vec3) => Span,
  bedMm: Vec3,
  on: BedAxes,
  fits: BedFit['fits'],
  up: Axis | null,
): BedFit {
  const axes = leastTurned(on);
  const [x, y, z] = axes.map(spanOn);
  const middles = [(x.low + x.high) / 2, (y.low + y.high) / 2, z.low + bedMm[2] / 2];
  const middleMm = axes.reduce<Vec3>((sum, axis, k) => add(sum, scale(axis, middles[k])), [0, 0, 0]);
  const sizeMm: Vec3 = [x.high - x.low, y.high - y.low, z.high - z.low];
  return { fits, turn: turnOnto(axes), up, ...excessOf(sizeMm, bedMm), withinMm: 0, middleMm };
}

/** To a bed it is all one whether a part is turned half round along one of its sides: the same axes, by the least turn. */
function leastTurned([x, y, z]: BedAxes): BedAxes {
  const [fx, fy, fz] = [x, y, z].map((axis) => scale(axis, -1));
  const alike: BedAxes[] = [
    [x, y, z],
    [x, fy, fz],
    [fx, y, fz],
    [fx, fy, z],
  ];
  // The sum is one more than twice the cosine of the turn.
  const cosine = (axes: BedAxes) => axes[0][0] + axes[1][1] + axes[2][2];
  return alike.reduce((least, one) => (cosine(one) > cosine(least) ? one : least));
}
