import { nearestOnLoops } from '../../math/nearest-on-loops.ts';
import { type PlaneFrame, toFrame } from '../../math/plane.ts';
import { type Loop, loopArea, windingAt } from '../../math/polygon.ts';
import { dot, sub, type Vec3 } from '../../math/vec3.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';
import type { SheetCrossing } from './cross-sheet.ts';
import type { CreaseSpan, SegmentFace } from './sheet-faces.ts';

/** Outlines of a sheet that are divided together or not at all: what hangs together in the sheet, hollow or not. */
export interface SheetGroup {
  /** Its outlines, segment by segment. */
  on: { segment: number; frame: PlaneFrame; loops: Loop[] }[];
}

export interface SheetGroups {
  groups: SheetGroup[];
  /** The group of a vertex that the sheet adds, or of one of the mesh's own that it falls on; −1 for one that bounds nothing. */
  groupOf(id: number): number;
}

/** Groups a sheet's outlines: those that chords or creases join, and on one face those that lie in others. */
export function groupSheet(
  { triangles, idOf }: SheetCrossing,
  spans: readonly CreaseSpan[],
  faces: readonly SegmentFace[],
): SheetGroups {
  const numbers = new PairTable(1024);
  const parents: number[] = [];
  const elementOf = (id: number) => {
    const number = numbers.number(idOf(id), 0);
    if (number === parents.length) parents.push(number);
    return number;
  };
  const join = (a: number, b: number) => {
    const [ra, rb] = [find(parents, elementOf(a)), find(parents, elementOf(b))];
    parents[Math.max(ra, rb)] = Math.min(ra, rb);
  };
  for (const { chords } of triangles) {
    for (const { ids } of chords) for (let n = 1; n < ids.length; n++) join(ids[n - 1], ids[n]);
  }
  for (const { low, high } of spans) join(low, high);
  for (const { rings, loops } of faces) {
    loops.forEach((outer, k) => {
      if (loopArea(outer) <= 0) return;
      loops.forEach((loop, other) => {
        if (other !== k && windingAt([outer], (loop[0] + loop[2]) / 2, (loop[1] + loop[3]) / 2) !== 0)
          join(rings[k][0], rings[other][0]);
      });
    });
  }
  const roots = new Map<number, number>();
  const groups: SheetGroup[] = [];
  for (const { segment, frame, rings, loops } of faces) {
    rings.forEach((ring, k) => {
      const root = find(parents, elementOf(ring[0]));
      if (!roots.has(root)) roots.set(root, groups.push({ on: [] }) - 1);
      const { on } = groups[roots.get(root) ?? 0];
      const face = on.find((one) => one.segment === segment);
      if (face) face.loops.push(loops[k]);
      else on.push({ segment, frame, loops: [loops[k]] });
    });
  }
  return { groups, groupOf: (id) => roots.get(find(parents, elementOf(id))) ?? -1 };
}

function find(parents: number[], i: number): number {
  let root = i;
  while (parents[root] !== root) {
    parents[root] = parents[parents[root]];
    root = parents[root];
  }
  return root;
}

/** Numbers of the groups that points (recentred mm) mean: each the one that it lies in, or nearest to. */
export function groupsAt({ groups }: SheetGroups, points: readonly Vec3[]): Set<number> {
  const chosen = new Set(
    points.map((p) => {
      const distances = groups.map(({ on }) => Math.min(...on.map((face) => distanceTo(face, p))));
      return distances.indexOf(Math.min(...distances));
    }),
  );
  chosen.delete(-1);
  return chosen;
}

function distanceTo({ frame, loops }: SheetGroup['on'][number], p: Vec3): number {
  const [x, y] = toFrame(frame, p);
  const across = windingAt(loops, x, y) > 0 ? 0 : nearestOnLoops(loops, x, y).distance;
  return Math.hypot(across, dot(frame.n, sub(p, frame.origin)));
}
