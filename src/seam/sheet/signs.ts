import { turn } from '../../math/predicates.ts';
import type { Profile } from './profile.ts';

/**
 * On which side of each other points and segments lie, seen against a sheet's sweep: exact, and never undecided. The
 * chain counts as moved by (ε, ε²) with ε smaller than any number, so that no corner of the mesh lies on it and no corner
 * of it on an edge (Edelsbrunner and Mücke, *Simulation of simplicity*, ACM Transactions on Graphics 9(1), 1990). All that
 * is decided by these signs fits together, whatever rounding does to places.
 */

/** Left (1) or right (−1) of a segment of the chain. */
export function sideOf({ x, y }: Profile, segment: number, px: number, py: number): 1 | -1 {
  const way = turn(x[segment], y[segment], x[segment + 1], y[segment + 1], px, py);
  if (way !== 0) return way > 0 ? 1 : -1;
  const dy = y[segment + 1] - y[segment];
  if (dy !== 0) return dy > 0 ? 1 : -1;
  return x[segment + 1] < x[segment] ? 1 : -1;
}

/** Whether a point of the chain is left (1) or right (−1) of the way from a to b; 0 where those are one place. */
export function chainPointBeside(
  { x, y }: Profile,
  point: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): 1 | 0 | -1 {
  const way = turn(ax, ay, bx, by, x[point], y[point]);
  if (way !== 0) return way > 0 ? 1 : -1;
  if (by !== ay) return by < ay ? 1 : -1;
  if (bx !== ax) return bx > ax ? 1 : -1;
  return 0;
}

/** Left (1) or right (−1) of the whole chain: how often a way to the right, level, leaves what is on the left. */
export function sideOfChain(profile: Profile, px: number, py: number): 1 | -1 {
  const { x, y, left } = profile;
  let isInside = false;
  const last = x.length - 1;
  for (let j = 0; j < last; j++) {
    const isUp = y[j + 1] >= py;
    if (isUp !== y[j] >= py && sideOf(profile, j, px, py) === (isUp ? 1 : -1)) isInside = !isInside;
  }
  for (let i = last * 2; i < left.length; i += 2) {
    const next = i + 2 < left.length ? i + 2 : 0;
    const isUp = left[next + 1] >= py;
    if (isUp === left[i + 1] >= py) continue;
    const ahead =
      (left[next] - left[i]) * (py - left[i + 1]) - (px - left[i]) * (left[next + 1] - left[i + 1]);
    if (ahead > 0 === isUp) isInside = !isInside;
  }
  return isInside ? 1 : -1;
}
