import { turn } from '../../math/predicates.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { type Vertices, withVertices } from '../../mesh/part/vertices.ts';
import { blocksMet, type MetBlock, type PlanView, planView } from './plan-view.ts';
import type { Profile } from './profile.ts';
import { SheetVertices } from './sheet-vertices.ts';
import { chainPointBeside } from './signs.ts';

/** A way of the sheet through a triangle, from side to side; where it passes corners of the chain, as that is walked. */
export interface Chord {
  /** Numbers, around the triangle, of the crossings where it begins and ends. */
  from: number;
  to: number;
  /** Vertices along it, both ends and the corners of the chain between. */
  ids: number[];
  /** The segment that its first piece lies on; each of the next pieces is on the next one. */
  segment: number;
}

/** A triangle that a sheet passes through. */
export interface CrossedTriangle {
  run: number;
  /** Index of its first corner in the run. */
  at: number;
  /** What lies around it: its corners and the crossings of its edges, in its own order. */
  ids: number[];
  /** Place of each in the triangle: weights of its second and third corner. */
  places: number[];
  /** Per place around it the side (1 left, −1 right) of what follows, up to the next. */
  after: Int8Array;
  /** Per place around it the chord that begins or ends there; −1 at corners. */
  chordAt: Int32Array;
  chords: Chord[];
}

/** Where a corner of the chain passes through a triangle. */
export interface Piercing {
  corner: number;
  id: number;
  /** How far along the sweep, mm. */
  height: number;
  /** 1 where material is behind it as the sweep looks, and ends there; −1 where it begins. */
  leaves: 1 | -1;
  /** Weights of the triangle's second and third corner. */
  place: readonly [number, number];
}

/** All that a sheet makes of a mesh, without dividing it. */
export interface SheetCrossing {
  profile: Profile;
  view: PlanView;
  /** Per run of triangles, the blocks it was looked for in. */
  met: MetBlock[][];
  triangles: CrossedTriangle[];
  piercings: Piercing[];
  /** The mesh's own vertices, then those that the sheet adds. */
  vertices: Vertices;
  ownCount: number;
  /** The vertex by which an id is known: several may fall on one place. */
  idOf(id: number): number;
}

/** Follows a sheet through a mesh given as runs of triangles: looks only at blocks that it meets. */
export function crossSheet(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  profile: Profile,
): SheetCrossing {
  const view = planView(vertices, profile);
  const made = new SheetVertices(vertices, view, profile);
  const met = runs.map((triangles) => blocksMet(vertices, triangles, profile));
  const crossed: CrossedTriangle[] = [];
  const piercings: Piercing[] = [];
  const near: number[] = [];
  runs.forEach((triangles, run) => {
    const { starts } = blocksOf(vertices, triangles);
    for (const { block, segments } of met[run]) {
      view.place(triangles.subarray(starts[block], starts[block + 1]));
      for (let at = starts[block]; at < starts[block + 1]; at += 3) {
        segmentsNear(triangles, at, view, profile, segments, near);
        if (near.length === 0) continue;
        const one = crossTriangle(triangles, run, at, view, made, near, piercings, profile);
        if (one) crossed.push(one);
      }
    }
  });
  const alias = made.aliases();
  const { ownCount } = made;
  return {
    profile,
    view,
    met,
    triangles: crossed,
    piercings,
    vertices: withVertices(vertices, made.positions),
    ownCount,
    idOf: (id) => (id < ownCount ? id : alias[id - ownCount]),
  };
}

/** Of some segments those that may cross a triangle: whose box meets its box, and whose line its corners lie on both sides of, or near. */
function segmentsNear(
  t: Uint32Array,
  at: number,
  view: PlanView,
  { x, y }: Profile,
  segments: readonly number[],
  near: number[],
): void {
  near.length = 0;
  const ax = view.x[t[at]];
  const ay = view.y[t[at]];
  const bx = view.x[t[at + 1]];
  const by = view.y[t[at + 1]];
  const cx = view.x[t[at + 2]];
  const cy = view.y[t[at + 2]];
  for (let n = 0; n < segments.length; n++) {
    const j = segments[n];
    const [px, py, qx, qy] = [x[j], y[j], x[j + 1], y[j + 1]];
    const dx = qx - px;
    const dy = qy - py;
    const da = dx * (ay - py) - dy * (ax - px);
    const db = dx * (by - py) - dy * (bx - px);
    const dc = dx * (cy - py) - dy * (cx - px);
    const slack =
      1e-12 * (Math.abs(dx) + Math.abs(dy)) * (Math.abs(ax) + Math.abs(ay) + Math.abs(px) + Math.abs(py));
    if ((da > slack && db > slack && dc > slack) || (da < -slack && db < -slack && dc < -slack)) continue;
    if (Math.max(px, qx) < Math.min(ax, bx, cx) || Math.min(px, qx) > Math.max(ax, bx, cx)) continue;
    if (Math.max(py, qy) < Math.min(ay, by, cy) || Math.min(py, qy) > Math.max(ay, by, cy)) continue;
    near.push(j);
  }
}

function crossTriangle(
  triangles: Uint32Array,
  run: number,
  at: number,
  view: PlanView,
  made: SheetVertices,
  near: readonly number[],
  piercings: Piercing[],
  profile: Profile,
): CrossedTriangle | null {
  const corners = [triangles[at], triangles[at + 1], triangles[at + 2]];
  const ids: number[] = [];
  const places: number[] = [];
  const segmentAt: number[] = [];
  const sides: number[] = [];
  let side: number = 0;
  for (let k = 0; k < 3; k++) {
    const a = corners[k];
    const b = corners[(k + 1) % 3];
    side = view.sideAt(a);
    ids.push(a);
    segmentAt.push(-1);
    sides.push(side);
    places.push(...placeOn(k, 0));
    const crossings = made.on(a, b, near);
    for (let n = 0; n < crossings.length; n++) {
      const { segment, id, t } = crossings[a < b ? n : crossings.length - 1 - n];
      side = -side;
      ids.push(id);
      segmentAt.push(segment);
      sides.push(side);
      places.push(...placeOn(k, a < b ? t : 1 - t));
    }
  }
  if (ids.length === 3) return null;
  const pierced = piercedIn(corners, view, made, near, piercings, profile);
  const chords = chordsOf(ids, segmentAt, pierced);
  const chordAt = new Int32Array(ids.length).fill(-1);
  chords.forEach(({ from, to }, c) => {
    chordAt[from] = c;
    chordAt[to] = c;
  });
  return { run, at, ids, places, after: Int8Array.from(sides), chordAt, chords };
}

/** Weights of the second and third corner at `t` of the way along edge k. */
const placeOn = (k: number, t: number): [number, number] =>
  k === 0 ? [t, 0] : k === 1 ? [1 - t, t] : [0, 1 - t];

/** Corners of the chain that pass through a triangle, by their numbers. */
function piercedIn(
  corners: readonly number[],
  { x, y }: PlanView,
  made: SheetVertices,
  near: readonly number[],
  piercings: Piercing[],
  profile: Profile,
): Map<number, number> {
  const pierced = new Map<number, number>();
  for (const j of near) {
    // A corner within the triangle ends one segment that is near, and begins the next.
    const corner = j + 1;
    if (corner + 1 >= profile.x.length || !near.includes(corner)) continue;
    const beside = (k: number) => {
      const [a, b] = [corners[k], corners[(k + 1) % 3]];
      return chainPointBeside(profile, corner, x[a], y[a], x[b], y[b]);
    };
    const winds = beside(0);
    if (winds === 0 || beside(1) !== winds || beside(2) !== winds) continue;
    const px = profile.x[corner];
    const py = profile.y[corner];
    const weights = corners.map((_, k) => {
      const [b, c] = [corners[(k + 1) % 3], corners[(k + 2) % 3]];
      return Math.abs(turn(x[b], y[b], x[c], y[c], px, py));
    });
    const sum = weights[0] + weights[1] + weights[2];
    const place: [number, number] = sum > 0 ? [weights[1] / sum, weights[2] / sum] : [1 / 3, 1 / 3];
    const { id, height } = made.within(corners, [1 - place[0] - place[1], ...place]);
    pierced.set(corner, id);
    piercings.push({ corner, id, height, leaves: winds, place });
  }
  return pierced;
}

/** Pairs the crossings around a triangle along the chain: in by one, out by the next. */
function chordsOf(
  ids: readonly number[],
  segmentAt: readonly number[],
  pierced: ReadonlyMap<number, number>,
): Chord[] {
  const order = segmentAt
    .map((segment, place) => ({ segment, place }))
    .filter(({ segment }) => segment >= 0)
    .sort((a, b) => a.segment - b.segment);
  const chords: Chord[] = [];
  for (let i = 0; i + 1 < order.length; i += 2) {
    const [from, to] = [order[i], order[i + 1]];
    const way = [ids[from.place]];
    for (let corner = from.segment + 1; corner <= to.segment; corner++) {
      const id = pierced.get(corner);
      if (id !== undefined) way.push(id);
    }
    way.push(ids[to.place]);
    chords.push({ from: from.place, to: to.place, ids: way, segment: from.segment });
  }
  return chords;
}
