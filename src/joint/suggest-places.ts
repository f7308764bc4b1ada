import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { boxOfLoops, type Loop, windingAt } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';

/** A point of a face and the radius of the largest free circle around it, mm. */
export interface Place {
  at: Vec2;
  radius: number;
}

/** Cells along the longer side of the face when looking for starting points. */
const GRID = 48;
/** Starting points kept for pairing, the roomiest first. */
const CANDIDATES = 400;
/** Times every place is moved over the grid, then climbed, while the others stand still. */
const GRID_ROUNDS = 8;
const CLIMB_ROUNDS = 3;
/** The search stops when its step is this small, mm. */
const STEP_END = 1e-4;
/** Among points with nearly as much room the one nearer the face's middle is the better start: room it is worth, per mm. */
const MIDDLE_PULL = 0.02;

/**
 * `count` places on a face that keep as far as they can from its outline, from the
 * `taken` outlines and from one another: the least of all those radii is made as large
 * as the search finds. For one place this is the pole of inaccessibility
 * (Garcia-Castellanos & Lombardo, *Scottish Geographical Journal* 123(3), 2007).
 *
 * A grid gives the start, each place in turn moves to where it has most room, then a
 * pattern search with halving steps settles it. Weighed: the published quadtree search
 * for one pole answers the same point but has no second place.
 */
export function suggestPlaces(loops: readonly Loop[], taken: readonly Loop[], count: number): Place[] {
  const room = (x: number, y: number, atMost = Number.POSITIVE_INFINITY): number => {
    if (windingAt(loops, x, y) !== 1 || windingAt(taken, x, y) !== 0) return 0;
    const edge = nearestOnLoops(loops, x, y, atMost).distance;
    return taken.length > 0 ? nearestOnLoops(taken, x, y, edge).distance : edge;
  };
  const grid = roomyPoints(loops, room);
  const points = startPoints(grid, count);
  const apart = (i: number, x: number, y: number) => {
    let least = Number.POSITIVE_INFINITY;
    points.forEach(([px, py], j) => {
      if (j !== i) least = Math.min(least, Math.hypot(x - px, y - py) / 2);
    });
    return least;
  };
  const free = (i: number) => (x: number, y: number) => Math.min(apart(i, x, y), room(x, y));
  for (let round = 0; count > 1 && round < GRID_ROUNDS; round++) {
    points.forEach((p, i) => {
      points[i] = bestOf(grid, (x, y) => apart(i, x, y), free(i)(p[0], p[1]), p);
    });
  }
  for (let round = 0; round < (count === 1 ? 1 : CLIMB_ROUNDS); round++) {
    points.forEach((p, i) => {
      points[i] = climb(p, room, (x, y) => apart(i, x, y), grid.step);
    });
  }
  return points.map((at, i) => ({ at, radius: free(i)(at[0], at[1]) })).filter(({ radius }) => radius > 0);
}

/** How much is free around a point, mm; where that is known to be less than `atMost`, found the sooner. */
type Room = (x: number, y: number, atMost?: number) => number;

interface Grid {
  step: number;
  points: { at: Vec2; room: number }[];
}

function roomyPoints(loops: readonly Loop[], room: Room): Grid {
  const [x0, y0, x1, y1] = boxOfLoops(loops);
  const step = Math.max(x1 - x0, y1 - y0) / GRID;
  const points: Grid['points'] = [];
  for (let x = x0 + step / 2; x < x1; x += step) {
    let before = 0;
    for (let y = y0 + step / 2; y < y1; y += step) {
      // A step away from a place there is no more room than a step more: what is farther need not be looked at.
      const r = room(x, y, before > 0 ? (before + step) * (1 + 1e-9) : undefined);
      if (r > 0) points.push({ at: [x, y], room: r });
      before = r;
    }
  }
  points.sort((a, b) => b.room - a.room);
  return { step, points };
}

/** The roomiest point near the middle, then whichever point is farthest from those chosen. */
function startPoints({ points }: Grid, count: number): Vec2[] {
  const candidates = points.slice(0, CANDIDATES);
  const [mx, my] = [0, 1].map((k) => points.reduce((sum, p) => sum + p.at[k], 0) / points.length);
  const central = ({ at, room }: Grid['points'][number]) =>
    room - MIDDLE_PULL * Math.hypot(at[0] - mx, at[1] - my);
  const first = candidates.reduce((a, b) => (central(b) > central(a) ? b : a), candidates[0]);
  const chosen: Vec2[] = first ? [first.at] : [];
  while (chosen.length < Math.min(count, candidates.length)) {
    const score = ({ at, room }: Grid['points'][number]) =>
      Math.min(room, ...chosen.map(([x, y]) => Math.hypot(at[0] - x, at[1] - y) / 2));
    chosen.push(points.reduce((best, p) => (score(p) > score(best) ? p : best)).at);
  }
  return chosen;
}

function bestOf({ points }: Grid, apart: (x: number, y: number) => number, now: number, at0: Vec2): Vec2 {
  let best = at0;
  let most = now;
  for (const { at, room } of points) {
    if (room <= most) break; // sorted: no later point has more room
    const s = Math.min(room, apart(at[0], at[1]));
    if (s > most) {
      most = s;
      best = at;
    }
  }
  return best;
}

/** Moves to the best of twelve neighbours while one is better, else halves the step. */
function climb(start: Vec2, room: Room, apart: (x: number, y: number) => number, step: number): Vec2 {
  let [x, y] = start;
  let here = room(x, y);
  let most = Math.min(apart(x, y), here);
  for (let s = step; s > STEP_END; ) {
    let better: Vec2 | null = null;
    let there = 0;
    const atMost = (here + s) * (1 + 1e-9);
    for (let k = 0; k < 12; k++) {
      const nx = x + s * Math.cos((k * Math.PI) / 6);
      const ny = y + s * Math.sin((k * Math.PI) / 6);
      const far = apart(nx, ny);
      if (far <= most) continue;
      const r = room(nx, ny, atMost);
      if (Math.min(far, r) <= most) continue;
      most = Math.min(far, r);
      there = r;
      better = [nx, ny];
    }
    if (better) {
      [x, y] = better;
      here = there;
    } else s /= 2;
  }
  return [x, y];
}
