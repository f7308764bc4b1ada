import type { Vec3 } from '../../math/vec3.ts';

/** Points seen along a direction: x, y of each, and how far along it each lies; mm. */
interface Seen {
  flat: Float64Array;
  heights: Float64Array;
}

export interface FlatTurn {
  /** The most by which the ring passes either side of the rectangle in this turn, mm; negative where it fits with room left. */
  overMm: number;
  /** Radians, counter-clockwise. */
  angle: number;
  /** What it is at least where the points are first tilted by no more than was asked, in whatever way and turn, mm. */
  floorMm: number;
}

const QUARTER = Math.PI / 2;

/**
 * The turn in its plane in which a convex ring of seen points (their numbers, counter-clockwise) passes a bed's width a
 * and depth b least, exactly, and how little that can become by tilting the points.
 *
 * Rotating calipers (Toussaint, *Proc. IEEE MELECON*, 1983): between two turns at which an edge lies along the rectangle
 * both widths are |d| cos of the angle to a chord d between opposite corners, so bent downward; the greater of them is
 * least at an end, or where both pass by as much. Of the quarter turn that calipers of four jaws go through, the second
 * half of the way round has the same widths, exchanged.
 */
export function bestFlatTurn(seen: Seen, ring: Uint32Array, [a, b]: Vec3, tilt: Tilt): FlatTurn {
  const events = eventsOf(seen, ring);
  const jaws = firstJaws(seen, ring);
  const best: FlatTurn = {
    overMm: Number.POSITIVE_INFINITY,
    angle: 0,
    floorMm: Number.POSITIVE_INFINITY,
  };
  let from = 0;
  for (let e = 0; e <= events.length; e++) {
    const to = e < events.length ? events[e].angle : QUARTER;
    const chords = chordsOf(seen, jaws);
    const stretch = { chords, from, to, start: widthsAt(chords, from), end: widthsAt(chords, to) };
    lookInto(stretch, a, b, 0, tilt, best);
    lookInto(stretch, b, a, QUARTER, tilt, best);
    from = to;
    if (e < events.length) jaws[events[e].jaw] = events[e].corner;
  }
  return best;
}

/** At this turn an edge lies along a jaw, which then goes on to its other corner. */
interface CaliperEvent {
  angle: number;
  jaw: number;
  corner: number;
}

/** The jaws look along x, y, −x and −y, turned; an edge's normal tells which of them meets it in this quarter turn. */
function eventsOf({ flat }: Seen, ring: Uint32Array): CaliperEvent[] {
  const events: CaliperEvent[] = [];
  for (let i = 0; ring.length > 1 && i < ring.length; i++) {
    const corner = ring[(i + 1) % ring.length];
    const dx = flat[corner * 2] - flat[ring[i] * 2];
    const dy = flat[corner * 2 + 1] - flat[ring[i] * 2 + 1];
    const normal = Math.atan2(-dx, dy);
    const around = normal < 0 ? normal + 4 * QUARTER : normal;
    const jaw = Math.min(3, Math.floor(around / QUARTER));
    events.push({ angle: Math.min(QUARTER, Math.max(0, around - jaw * QUARTER)), jaw, corner });
  }
  return events.sort((one, other) => one.angle - other.angle);
}

/** The corner that each jaw holds before any turn. */
function firstJaws({ flat }: Seen, ring: Uint32Array): number[] {
  const jaws = [ring[0], ring[0], ring[0], ring[0]];
  for (const corner of ring) {
    if (flat[corner * 2] > flat[jaws[0] * 2]) jaws[0] = corner;
    if (flat[corner * 2 + 1] > flat[jaws[1] * 2 + 1]) jaws[1] = corner;
    if (flat[corner * 2] < flat[jaws[2] * 2]) jaws[2] = corner;
    if (flat[corner * 2 + 1] < flat[jaws[3] * 2 + 1]) jaws[3] = corner;
  }
  return jaws;
}

/** From one jaw's corner to that of the jaw across, first along x, then along y; and the square of each one's length in space. */
interface Chords {
  x1: number;
  y1: number;
  square1: number;
  x2: number;
  y2: number;
  square2: number;
}

function chordsOf({ flat, heights }: Seen, [right, rear, left, front]: number[]): Chords {
  const x1 = flat[right * 2] - flat[left * 2];
  const y1 = flat[right * 2 + 1] - flat[left * 2 + 1];
  const z1 = heights[right] - heights[left];
  const x2 = flat[rear * 2] - flat[front * 2];
  const y2 = flat[rear * 2 + 1] - flat[front * 2 + 1];
  const z2 = heights[rear] - heights[front];
  return { x1, y1, square1: x1 * x1 + y1 * y1 + z1 * z1, x2, y2, square2: x2 * x2 + y2 * y2 + z2 * z2 };
}

/** A stretch of turn where the jaws hold the same corners, and the widths where it begins and ends. */
interface Stretch {
  chords: Chords;
  from: number;
  to: number;
  start: readonly [number, number];
  end: readonly [number, number];
}

/** Notes what a stretch has that is less, with a quarter turn `more` or none. */
function lookInto(
  { chords, from, to, start, end }: Stretch,
  a: number,
  b: number,
  more: number,
  tilt: Tilt,
  best: FlatTurn,
): void {
  const low1 = Math.min(start[0], end[0]);
  const low2 = Math.min(start[1], end[1]);
  const { square1, square2 } = chords;
  const floor = Math.max(lowered(low1, square1, tilt) - a, lowered(low2, square2, tilt) - b);
  if (floor >= best.floorMm && Math.max(low1 - a, low2 - b) >= best.overMm) return;
  let least = Number.POSITIVE_INFINITY;
  let angle = 0;
  const offer = (at: number, [along, across]: readonly [number, number]): void => {
    const overMm = Math.max(along - a, across - b);
    if (overMm < least) [least, angle] = [overMm, at];
  };
  offer(from, start);
  offer(to, end);
  for (const at of evenTurns(chords, a - b)) if (at > from && at < to) offer(at, widthsAt(chords, at));
  // In each turn of the stretch one of both is so wide at least.
  const either = Math.min(lowered(a + least, square1, tilt) - a, lowered(b + least, square2, tilt) - b);
  best.floorMm = Math.min(best.floorMm, Math.max(floor, either));
  if (least >= best.overMm) return;
  best.overMm = least;
  // The ring is turned against the calipers.
  best.angle = more - angle;
}

/** Cosine and sine of the greatest angle by which a direction may be tilted, less than a right one. */
export interface Tilt {
  cos: number;
  sin: number;
}

export const tiltBy = (angle: number): Tilt => ({ cos: Math.cos(angle), sin: Math.sin(angle) });

/** What is left at least of a chord's extent along a direction, mm, when that is tilted; `square` is that of its length. */
export const lowered = (widthMm: number, square: number, { cos, sin }: Tilt): number =>
  widthMm * cos - Math.sqrt(Math.max(0, square - widthMm * widthMm)) * sin;

function widthsAt({ x1, y1, x2, y2 }: Chords, angle: number): readonly [number, number] {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [x1 * c + y1 * s, y2 * c - x2 * s];
}

/** The turns at which the first width is by `more` greater than the second. */
function evenTurns({ x1, y1, x2, y2 }: Chords, more: number): number[] {
  const [p, q] = [x1 - y2, y1 + x2];
  const share = more / Math.hypot(p, q);
  if (!(Math.abs(share) <= 1)) return [];
  const [middle, aside] = [Math.atan2(q, p), Math.acos(share)];
  return [middle + aside, middle - aside].map((angle) => {
    const turns = angle % (4 * QUARTER);
    return turns < 0 ? turns + 4 * QUARTER : turns;
  });
}
