import { nearestOnLoops } from '../../math/nearest-on-loops.ts';
import { boxOfLoops, type Loop, type LoopBox, loopArea, windingAt } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import type { Vec2 } from '../../math/vec3.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { vertexCount } from '../../mesh/part/vertices.ts';
import type { Crossing } from '../../mesh/plane/crossing.ts';
import type { Ring } from '../../mesh/plane/outline.ts';
import { denseIds } from '../../mesh/topology/dense-ids.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import { crossings } from '../simple.ts';

/**
 * Outlines of a plane that are divided together or not at all: an outermost one and all that lies in it, holes and
 * islands in holes; and those that touch or cross each other.
 */
export interface OutlineGroup {
  /** Numbers of its loops. */
  members: number[];
  /** Those of them that run around material. */
  around: Loop[];
  /** Some of them cross themselves or each other. */
  isCrossed: boolean;
}

/** The groups of a crossing's outlines, and what of the crossing belongs to each. */
export interface OutlineGroups {
  groups: OutlineGroup[];
  /** Ids of the crossing: vertices in the plane, one after the other as its triangles and rings have them. */
  ids: Uint32Array;
  /** The group of each of them; −1 for what bounds no material. */
  groupOf: Int32Array;
}

/** Groups outlines; `rings` and `loops` are those of `outlineOf`. */
export function groupOutlines(
  crossing: Crossing,
  rings: readonly Ring[],
  loops: readonly Loop[],
): OutlineGroups {
  const ids = joinIndices([crossing.walked, ...rings]);
  const { numbers, count } = denseIds(ids, crossing.ownCount, vertexCount(crossing.vertices));
  /** Over the vertices in the plane, then over the loops. */
  const joined = newShells(count + loops.length);
  joinTouching(crossing, rings, ids, numbers, joined);
  let at = crossing.walked.length;
  rings.forEach((ring, k) => {
    joinShells(joined, numbers[at], count + k);
    at += ring.length;
  });
  const crossed = new Set<number>();
  for (const [a, b] of crossings(loops, TOLERANCES.outlineSlop)) {
    joinShells(joined, count + a, count + b);
    crossed.add(a);
  }
  joinNested(loops, joined, count);
  const groups: OutlineGroup[] = [];
  const groupOfRoot = new Int32Array(joined.length).fill(-1);
  loops.forEach((loop, k) => {
    const root = rootOf(joined, count + k);
    if (groupOfRoot[root] < 0)
      groupOfRoot[root] = groups.push({ members: [], around: [], isCrossed: false }) - 1;
    const group = groups[groupOfRoot[root]];
    group.members.push(k);
    group.isCrossed ||= crossed.has(k);
    if (loopArea(loop) > 0) group.around.push(loop);
  });
  return { groups, ids, groupOf: Int32Array.from(numbers, (number) => groupOfRoot[rootOf(joined, number)]) };
}

/**
 * Joins what the plane's way through triangles joins: cut vertices with what they lead to, and the vertices of a ring.
 * An edge of the mesh that lies in the plane inside material joins nothing: a flat side may lead to several outlines.
 */
function joinTouching(
  { walked, ownCount }: Crossing,
  rings: readonly Ring[],
  ids: Uint32Array,
  numbers: Uint32Array,
  joined: Uint32Array,
): void {
  for (let i = 0; i < walked.length; i += 2) {
    if (ids[i] >= ownCount || ids[i + 1] >= ownCount) joinShells(joined, numbers[i], numbers[i + 1]);
  }
  let at = walked.length;
  for (const { length } of rings) {
    for (let i = 1; i < length; i++) joinShells(joined, numbers[at + i - 1], numbers[at + i]);
    at += length;
  }
}

/** Joins each loop, numbered from `first` on, to those around material that it lies in. */
function joinNested(loops: readonly Loop[], joined: Uint32Array, first: number): void {
  const boxes = loops.map((loop) => boxOfLoops([loop]));
  const outers = loops.flatMap((loop, k) => (loopArea(loop) > 0 ? [k] : []));
  loops.forEach((loop, k) => {
    for (const j of outers) {
      if (j === k || !holds(boxes[j], boxes[k])) continue;
      if (windingAt([loops[j]], (loop[0] + loop[2]) / 2, (loop[1] + loop[3]) / 2) !== 0)
        joinShells(joined, first + k, first + j);
    }
  });
}

const holds = (a: LoopBox, b: LoopBox): boolean =>
  a[0] <= b[0] && a[1] <= b[1] && a[2] >= b[2] && a[3] >= b[3];

/**
 * The group a point of the frame means: the one with an outline that it lies in, hollow or not, else the nearest;
 * −1 where there is none.
 */
export function groupAt(groups: readonly Pick<OutlineGroup, 'around'>[], [x, y]: Vec2): number {
  const inside = groups.findIndex(({ around }) => windingAt(around, x, y) > 0);
  if (inside >= 0) return inside;
  const distances = groups.map(({ around }) => nearestOnLoops(around, x, y).distance);
  const least = Math.min(...distances);
  return Number.isFinite(least) ? distances.indexOf(least) : -1;
}
