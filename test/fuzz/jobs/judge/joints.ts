import type { JobDocument } from '../generate.ts';
import type { PartFile } from './part.ts';
import type { Report, ReportedPeg } from './report.ts';
import { planeUnder } from './seam-planes.ts';
import { boxOf, centreOf, near, nearestFrom, normalOf, surfaceOf, type Triangle } from './triangle.ts';
import { dot, minus, type Point, plus, times } from './vectors.ts';

/** A joint as the files have it: the peg's and the socket's triangles beyond the seam plane. */
export interface FoundJoint {
  seamId: string;
  peg: ReportedPeg;
  /** Where it stands, and which way it points, unit. */
  foot: Point;
  axis: Point;
  pegPart: PartFile | null;
  pegTriangles: Triangle[];
  socketPart: PartFile | null;
  socketTriangles: Triangle[];
}

/** Ids of the parts that no seam divides, with their names and the seams on their way. */
export function leavesOf(
  job: JobDocument,
): { name: string; way: { seam: string; side: 'front' | 'back' }[] }[] {
  type Leaf = ReturnType<typeof leavesOf>[number];
  const parts = new Map<string, Leaf>([['sculpt', { name: 'sculpt', way: [] }]]);
  for (const { id, of, names } of job.seams) {
    const whole = parts.get(of);
    if (!whole) continue;
    parts.delete(of);
    for (const side of ['front', 'back'] as const)
      parts.set(`${id}.${side}`, { name: names[side], way: [...whole.way, { seam: id, side }] });
  }
  return [...parts.values()];
}

/** Finds every reported joint in the files by its foot and the plane of its seam that it stands on. */
export function findJoints(
  job: JobDocument,
  report: Report,
  parts: readonly PartFile[],
  centre: Point,
): FoundJoint[] {
  const leaves = leavesOf(job);
  const under = (seam: string, side: 'front' | 'back') =>
    parts.filter(({ name }) =>
      leaves.some((leaf) => leaf.name === name && leaf.way.some((w) => w.seam === seam && w.side === side)),
    );
  return job.seams.flatMap(({ id, by, pegOn }) => {
    const pegs = report.seams.find((seam) => seam.id === id)?.pegs ?? [];
    return pegs.map((peg): FoundJoint => {
      const { normal, offsetMm } = planeUnder(by, peg, pegOn);
      const axis = times(normal, pegOn === 'back' ? 1 : -1);
      const at = minus(peg.at, centre);
      const foot = minus(at, times(normal, dot(normal, peg.at) - offsetMm));
      const own = pegIn(under(id, pegOn), peg, foot, axis);
      const other = own
        ? socketIn(under(id, pegOn === 'back' ? 'front' : 'back'), own.triangles, peg, foot, axis)
        : null;
      return {
        seamId: id,
        peg,
        foot,
        axis,
        pegPart: own?.part ?? null,
        pegTriangles: own?.triangles ?? [],
        socketPart: other?.part ?? null,
        socketTriangles: other?.triangles ?? [],
      };
    });
  });
}

/** Radius about the foot that holds all of a peg. */
export const reachOf = ({ widthMm, heightMm }: ReportedPeg): number => Math.hypot(widthMm, heightMm) / 2;

/** A corner farther beyond the seam plane than this is not in it, mm. */
const offPlane = ({ stepMm }: PartFile): number => Math.max(2e-4, 4 * stepMm);

/** The peg: what the parts on its side have beyond the plane, within its reach of the foot, hanging together with what is nearest to it. */
function pegIn(parts: readonly PartFile[], peg: ReportedPeg, foot: Point, axis: Point) {
  const reach = reachOf(peg) + 0.01;
  const away = awayFrom(foot, axis);
  for (const part of parts) {
    const beyond = part.triangles.filter(
      (t) =>
        t.some((p) => dot(minus(p, foot), axis) > offPlane(part)) &&
        t.every((p) => away(p) <= reach + offPlane(part)),
    );
    if (beyond.length === 0) continue;
    return { part, triangles: groupAbout(connected(beyond), away) };
  }
  return null;
}

/** How far a point is from a joint's axis. */
const awayFrom =
  (foot: Point, axis: Point) =>
  (p: Point): number => {
    const d = minus(p, foot);
    return Math.hypot(...minus(d, times(axis, dot(d, axis))));
  };

/** The group whose middle is nearest to the axis: a neighbour's joint hangs together by itself. */
function groupAbout(groups: readonly Triangle[][], away: (p: Point) => number): Triangle[] {
  const distance = (group: Triangle[]) => away(times(group.map(centreOf).reduce(plus), 1 / group.length));
  return groups.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}

/** Triangles grouped by the corners they share: a part's triangles have the very same points where they meet. */
function connected(triangles: readonly Triangle[]): Triangle[][] {
  const touching = new Map<Point, Triangle[]>();
  for (const t of triangles) for (const p of t) touching.set(p, [...(touching.get(p) ?? []), t]);
  const left = new Set(triangles);
  const groups: Triangle[][] = [];
  for (const first of triangles) {
    if (!left.delete(first)) continue;
    const group = [first];
    for (const t of group)
      for (const next of t.flatMap((p) => touching.get(p) ?? [])) if (left.delete(next)) group.push(next);
    groups.push(group);
  }
  return groups;
}

/** The socket: triangles that face the peg, off the seam plane, every corner no farther from it than the gaps allow, and hanging together. */
function socketIn(
  parts: readonly PartFile[],
  peg: readonly Triangle[],
  { asked, draftDeg }: ReportedPeg,
  foot: Point,
  axis: Point,
) {
  const lean = Math.cos((draftDeg * Math.PI) / 180);
  const far = Math.hypot(asked.sideGapMm, asked.endGapMm) * 1.05 + asked.sideGapMm * (1 / lean - 1) + 0.02;
  const nearest = nearestFrom(surfaceOf(peg), far);
  const box = boxOf(peg.flat(), far);
  for (const part of parts) {
    const own = near(part.triangles, box).filter((t) => {
      if (t.every((p) => Math.abs(dot(minus(p, foot), axis)) <= offPlane(part))) return false;
      if (!t.every((p) => nearest(p))) return false;
      const centre = centreOf(t);
      const facing = nearest(centre);
      return facing !== null && dot(minus(facing.at, centre), normalOf(t)) > 0;
    });
    if (own.length > 0) return { part, triangles: groupAbout(connected(own), awayFrom(foot, axis)) };
  }
  return null;
}
