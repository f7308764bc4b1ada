import type { Plane, PlaneFrame } from '../../math/plane.ts';
import { fromFrame } from '../../math/plane.ts';
import { pointInside } from '../../math/point-inside.ts';
import { loopArea } from '../../math/polygon.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { coordinate } from '../../mesh/part/vertices.ts';
import type { Trace, TracedRun } from '../../mesh/plane/trace.ts';
import type { OutlineGroups } from './outline-groups.ts';
import { BACK, FRONT, Pieces } from './pieces.ts';

/**
 * Where a piece that the cut outlines do not divide hangs together across the plane: within an outline that was not
 * chosen and leads from one side of the cut to the other, recentred mm.
 */
export function joiningPlace(
  part: Part,
  plane: Plane,
  frame: PlaneFrame,
  trace: Trace,
  outlines: OutlineGroups,
  isCut: Uint8Array,
  whole: Pieces,
  piece: number,
): Vec3 {
  const isInPlane = isCut.map((is, id) =>
    is === 1 || (id < trace.ownCount && trace.side[id] === 0) ? 1 : 0,
  );
  outlines.ids.forEach((id) => {
    isInPlane[id] = 1;
  });
  const halves = new Pieces(part, plane, trace, isInPlane);
  const ends = (rim: number) =>
    whole.rims
      .filter(({ vertex, of }) => of === rim && whole.of(vertex) === piece && !halves.isOnCut(vertex))
      .map(({ vertex }) => halves.of(vertex));
  const links = new Map<number, number[]>();
  for (const run of trace.runs) linkRun(run, trace, isCut, halves, links);
  const way = wayBetween(links, ends(FRONT), new Set(ends(BACK)));
  const ids = way.filter((node) => node >= halves.limit).map((node) => node - halves.limit);
  const group = ids.map((id) => outlines.groupOf[outlines.ids.indexOf(id)] ?? -1).find((one) => one >= 0);
  if (group === undefined || outlines.groups[group].around.length === 0)
    return [0, 1, 2].map((k) => coordinate(trace.vertices, ids[0], k)) as unknown as Vec3;
  const largest = outlines.groups[group].around.reduce((a, b) => (loopArea(b) > loopArea(a) ? b : a));
  return fromFrame(frame, pointInside(largest));
}

/** Links the halves on both sides of the plane with the places in it, but for those cut: numbered on from the halves. */
function linkRun(
  { triangles, at, sides }: TracedRun,
  trace: Trace,
  isCut: Uint8Array,
  halves: Pieces,
  links: Map<number, number[]>,
): void {
  const link = (a: number, b: number) => {
    links.set(a, [...(links.get(a) ?? []), b]);
    links.set(b, [...(links.get(b) ?? []), a]);
  };
  for (let m = 0; m < at.length; m++) {
    const corners = [0, 1, 2].map((k) => ({ v: triangles[at[m] + k], side: sides[m * 3 + k] }));
    const places = corners.flatMap(({ v, side }, k) => {
      const next = corners[(k + 1) % 3];
      if (side === 0) return [v];
      return side * next.side < 0 ? [trace.cutVertex(v, next.v)] : [];
    });
    const open = places.filter((id) => isCut[id] === 0).map((id) => halves.limit + id);
    const off = corners.filter(({ side }) => side !== 0).map(({ v }) => halves.of(v));
    for (const place of open) for (const other of [...off, ...open]) if (other !== place) link(place, other);
  }
}

/** The shortest way over links from one of some nodes to one of others, ends left out (breadth first). */
function wayBetween(
  links: ReadonlyMap<number, readonly number[]>,
  from: readonly number[],
  to: ReadonlySet<number>,
): number[] {
  const before = new Map(from.map((node) => [node, -1]));
  const queue = [...before.keys()];
  for (const node of queue) {
    if (to.has(node)) {
      const way: number[] = [];
      for (let one = before.get(node)!; one >= 0; one = before.get(one)!) way.push(one);
      return way.reverse();
    }
    for (const next of links.get(node) ?? []) {
      if (before.has(next)) continue;
      before.set(next, node);
      queue.push(next);
    }
  }
  return [];
}
