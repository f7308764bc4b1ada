import { PegwrightError } from '../../errors.ts';
import { fromFrame } from '../../math/plane.ts';
import { pointInside } from '../../math/point-inside.ts';
import { loopArea } from '../../math/polygon.ts';
import { add, type Vec3 } from '../../math/vec3.ts';
import { rayHits } from '../../mesh/near/ray-hits.ts';
import type { Part } from '../../mesh/part/part.ts';
import { coordinate } from '../../mesh/part/vertices.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import type { Bound } from '../bounded/bound-trace.ts';
import type { Astray } from '../cut.ts';
import type { CrossedTriangle, SheetCrossing } from './cross-sheet.ts';
import type { SheetGroup, SheetGroups } from './sheet-groups.ts';

/** Rims of what is cut, as bits: on the left of the sheet, and on its right. */
const LEFT = 1;
const RIGHT = 2;

/**
 * A crossing bounded to some groups of a sheet's outlines: whatever else it passes through goes whole to the side that it
 * hangs together with. Takes the sides of the crossing's view over, all of which are known.
 * @throws PegwrightError `seam-frees-nothing` where what is on both sides of the cut hangs together elsewhere.
 */
export function boundSheet(
  part: Part,
  crossing: SheetCrossing,
  groups: SheetGroups,
  chosen: ReadonlySet<number>,
  seamId: string,
  { originMm }: Bound,
): { crossing: SheetCrossing; astray: Astray } {
  const kept = crossing.triangles.flatMap((triangle) =>
    keepChords(triangle, (id) => chosen.has(groups.groupOf(id))),
  );
  const piercings = crossing.piercings.filter(({ id }) => chosen.has(groups.groupOf(id)));
  const runs = part.patches.map(({ triangles }) => triangles);
  const parents = newShells(crossing.ownCount);
  joinWhole(runs, kept, parents);
  const rims = new Uint8Array(crossing.ownCount);
  const found = kept.flatMap((triangle) => joinRegions(triangle, parents));
  for (const { vertex, rim } of found) rims[rootOf(parents, vertex)] |= rim;
  const torn = found.find(({ vertex }) => rims[rootOf(parents, vertex)] === (LEFT | RIGHT));
  if (torn) {
    const at = joiningPlace(crossing, groups, chosen, parents, rootOf(parents, torn.vertex));
    throw new PegwrightError('seam-frees-nothing', { seamId, chosen: chosen.size, at: add(at, originMm) });
  }
  const astray = settleSides(part, crossing, runs, parents, rims);
  const { side } = crossing.view;
  return {
    crossing: { ...crossing, piercings, triangles: kept.map((triangle) => relabelled(triangle, side)) },
    astray,
  };
}

/** A triangle with some of its chords, and of the crossings around it only their ends; none where it has none of them. */
function keepChords(triangle: CrossedTriangle, isKept: (id: number) => boolean): CrossedTriangle[] {
  const chords = triangle.chords.filter(({ ids }) => isKept(ids[0]));
  if (chords.length === triangle.chords.length) return [triangle];
  if (chords.length === 0) return [];
  const stays = triangle.ids.map((_, place) => {
    const chord = triangle.chordAt[place];
    return chord < 0 || chords.includes(triangle.chords[chord]);
  });
  const places = triangle.ids.flatMap((_, place) => (stays[place] ? [place] : []));
  const moved = chords.map((chord) => ({
    ...chord,
    from: places.indexOf(chord.from),
    to: places.indexOf(chord.to),
  }));
  const chordAt = new Int32Array(places.length).fill(-1);
  moved.forEach(({ from, to }, c) => {
    chordAt[from] = c;
    chordAt[to] = c;
  });
  return [
    {
      ...triangle,
      ids: places.map((place) => triangle.ids[place]),
      places: places.flatMap((place) => [triangle.places[place * 2], triangle.places[place * 2 + 1]]),
      after: Int8Array.from(places, (place) => triangle.after[place]),
      chordAt,
      chords: moved,
    },
  ];
}

/** Joins the corners of the triangles that are not cut. */
function joinWhole(
  runs: readonly Uint32Array[],
  kept: readonly CrossedTriangle[],
  parents: Uint32Array,
): void {
  runs.forEach((triangles, run) => {
    const isCut = new Uint8Array(triangles.length / 3);
    for (const one of kept) if (one.run === run) isCut[one.at / 3] = 1;
    for (let i = 0; i < triangles.length; i += 3) {
      if (isCut[i / 3] === 1) continue;
      joinShells(parents, triangles[i], triangles[i + 1]);
      joinShells(parents, triangles[i], triangles[i + 2]);
    }
  });
}

/**
 * Joins corners of a cut triangle that no chord parts; answers on which rims they are. A chord's sides are told by what
 * follows its ends around the triangle, as the whole sheet has it.
 */
function joinRegions(
  { ids, after, chordAt, chords }: CrossedTriangle,
  parents: Uint32Array,
): { vertex: number; rim: number }[] {
  const rims: { vertex: number; rim: number }[] = [];
  const isWalked = new Uint8Array(ids.length);
  for (let start = 0; start < ids.length; start++) {
    if (chordAt[start] < 0 || isWalked[start] === 1) continue;
    let first = -1;
    let rim = 0;
    let at = start;
    do {
      isWalked[at] = 1;
      rim |= after[at] > 0 ? LEFT : RIGHT;
      at = nextAround(at, ids.length);
      for (; chordAt[at] < 0; at = nextAround(at, ids.length)) {
        if (first < 0) first = ids[at];
        joinShells(parents, first, ids[at]);
      }
      const chord = chords[chordAt[at]];
      at = chord.from === at ? chord.to : chord.from;
    } while (at !== start);
    if (first >= 0) rims.push({ vertex: first, rim });
  }
  return rims;
}

const nextAround = (place: number, count: number): number => (place + 1 < count ? place + 1 : 0);

/** A triangle whose corners have the sides of the pieces they are of. */
function relabelled(triangle: CrossedTriangle, side: Int8Array): CrossedTriangle {
  const after = new Int8Array(triangle.ids.length);
  let now = 0;
  triangle.ids.forEach((id, place) => {
    now = triangle.chordAt[place] < 0 ? side[id] : -now;
    after[place] = now;
  });
  return { ...triangle, after };
}

/** Gives every vertex the side of its piece: that of its rim; a piece without one goes with what it lies in, else to where most of its corners lie. */
function settleSides(
  part: Part,
  { view, profile, ownCount }: SheetCrossing,
  runs: readonly Uint32Array[],
  parents: Uint32Array,
  rims: Uint8Array,
): Astray {
  const sideOf = Int8Array.from(rims, (rim) => (rim === LEFT ? 1 : rim === RIGHT ? -1 : 0));
  const leans = new Map<number, number>();
  for (let v = 0; v < ownCount; v++) {
    const root = rootOf(parents, v);
    if (sideOf[root] === 0) leans.set(root, (leans.get(root) ?? 0) + view.side[v]);
  }
  const settle = (root: number): number => {
    if (sideOf[root] !== 0) return sideOf[root];
    // Set first: two that would ask for each other come to an end.
    sideOf[root] = (leans.get(root) ?? 0) < 0 ? -1 : 1;
    const from = [0, 1, 2].map((k) => coordinate(part, root, k)) as unknown as Vec3;
    const around = enclosing(
      rayHits(part, runs, from, profile.frame, 1).map((hit) => ({
        ...hit,
        root: rootOf(parents, hit.farthest),
      })),
      root,
      (other) => !leans.has(other),
    );
    if (around !== null) sideOf[root] = settle(around);
    return sideOf[root];
  };
  for (const root of leans.keys()) settle(root);
  const astray = { front: [] as number[], back: [] as number[] };
  for (let v = 0; v < ownCount; v++) {
    const side = sideOf[rootOf(parents, v)];
    if (side !== view.side[v]) astray[side > 0 ? 'front' : 'back'].push(v);
    view.side[v] = side;
  }
  return { front: placesOf(part, astray.front), back: placesOf(part, astray.back) };
}

/** Places told at the most of each part, evenly over all there are. */
const MOST_ASTRAY = 1500;

function placesOf(part: Part, vertices: readonly number[]): Vec3[] {
  const stride = Math.max(1, Math.ceil(vertices.length / MOST_ASTRAY));
  return vertices
    .filter((_, i) => i % stride === 0)
    .map((v): Vec3 => [coordinate(part, v, 0), coordinate(part, v, 1), coordinate(part, v, 2)]);
}

/** The nearest piece that a ray leaves more often than it enters it; pieces that are cut count as one solid. */
function enclosing(
  hits: readonly { root: number; distance: number; leaves: boolean }[],
  own: number,
  isCut: (root: number) => boolean,
): number | null {
  const depths = new Map<number, number>();
  const keyOf = (root: number) => (isCut(root) ? -1 : root);
  const others = hits.filter(({ root }) => root !== own).sort((a, b) => a.distance - b.distance);
  for (const { root, leaves } of others)
    depths.set(keyOf(root), (depths.get(keyOf(root)) ?? 0) + (leaves ? 1 : -1));
  return others.find(({ root, leaves }) => leaves && depths.get(keyOf(root)) !== 0)?.root ?? null;
}

/** Within the largest of the outlines that were not chosen and that a piece hangs together through. */
function joiningPlace(
  { triangles, idOf }: SheetCrossing,
  { groups, groupOf }: SheetGroups,
  chosen: ReadonlySet<number>,
  parents: Uint32Array,
  piece: number,
): Vec3 {
  const joining = new Set<number>();
  for (const { ids, chords } of triangles) {
    const corner = ids.find((_, place) => !chords.some(({ from, to }) => from === place || to === place));
    if (corner === undefined || rootOf(parents, corner) !== piece) continue;
    for (const chord of chords) joining.add(groupOf(idOf(chord.ids[0])));
  }
  const open = [...joining].filter((group) => group >= 0 && !chosen.has(group)).map((group) => groups[group]);
  return placeIn(open.length > 0 ? open : groups);
}

/** A point within the largest outline of some groups. */
function placeIn(groups: readonly SheetGroup[]): Vec3 {
  const loops = groups.flatMap(({ on }) =>
    on.flatMap(({ frame, loops: all }) => all.map((loop) => ({ frame, loop }))),
  );
  const largest = loops.reduce((a, b) => (loopArea(b.loop) > loopArea(a.loop) ? b : a));
  return fromFrame(largest.frame, pointInside(largest.loop));
}
