import type { PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import { cross, dot, type Vec3 } from '../math/vec3.ts';
import type { Part, PatchOf } from '../mesh/part/part.ts';
import { crossPlane } from '../mesh/plane/cross-plane.ts';
import type { Crossing } from '../mesh/plane/crossing.ts';
import { outlineOf, pointsIn } from '../mesh/plane/outline.ts';

/** The plane a section drawing lies in: `across` and `along` (unit vectors, square to each other) through `foot`, mm. */
export interface SectionPlane {
  foot: Vec3;
  across: Vec3;
  along: Vec3;
}

export const sectionFrame = ({ foot, across, along }: SectionPlane): PlaneFrame => ({
  origin: foot,
  u: across,
  v: along,
  n: cross(across, along),
});

/** Closed outlines of a part in the section plane, flat u, v pairs (mm); holes run the other way. */
export function sectionPart(part: Part, frame: PlaneFrame): Loop[] {
  const crossing = crossSection(
    part,
    frame,
    part.patches.map((patch) => patch.triangles),
  );
  return outlineOf(crossing, frame).loops;
}

/**
 * The profile of one joint's surface in the section plane: an open line from face to face, starting at the lesser u; of a
 * closed surface without its floor, which lies at `floorMm`. Empty where the plane does not meet it; of several, as of a
 * concave joint, the widest, so that it is the same of what is added and of what is taken.
 */
export function sectionProfile(
  part: Part,
  frame: PlaneFrame,
  choose: (of: PatchOf) => boolean,
  floorMm: number | null = null,
): Float64Array {
  const runs = part.patches.filter((patch) => choose(patch.of)).map((patch) => patch.triangles);
  const crossing = crossSection(part, frame, runs);
  const edges = floorMm === null ? crossing.edges : edgesOff(crossing, frame, floorMm);
  const lines = pathsOf(edges).map((path) => {
    const points = pointsIn(frame, crossing.vertices, Uint32Array.from(path));
    return points[0] > points[points.length - 2]
      ? pointsIn(frame, crossing.vertices, Uint32Array.from(path.reverse()))
      : points;
  });
  const width = (line: Float64Array) => line[line.length - 2] - line[0];
  const widest = Math.max(...lines.map(width));
  // Of such as are as wide, the first along u.
  const [first] = lines.filter((line) => width(line) > widest - AS_WIDE).sort((a, b) => a[0] - b[0]);
  return first ?? new Float64Array(0);
}

/** Profiles whose widths differ by less than this are as wide, mm. */
const AS_WIDE = 1e-3;

/** How far off its level a point of a floor may be: rounding, mm. */
const ON_FLOOR = 1e-3;

/** The edges that do not lie along a level of the section. */
function edgesOff({ edges, vertices }: Crossing, frame: PlaneFrame, level: number): Uint32Array {
  const points = pointsIn(frame, vertices, edges);
  const isOn = (end: number) => Math.abs(points[end * 2 + 1] - level) <= ON_FLOOR;
  return edges.filter((_, i) => !(isOn(i & ~1) && isOn(i | 1)));
}

function crossSection(part: Part, frame: PlaneFrame, runs: readonly Uint32Array[]) {
  const plane = { normal: frame.n, offset: dot(frame.n, frame.origin) };
  return crossPlane(part, runs, plane);
}

/** Follows directed edges from each start that no edge ends in. */
function pathsOf(edges: Uint32Array): number[][] {
  const next = new Map<number, number>();
  const ends = new Set<number>();
  for (let i = 0; i < edges.length; i += 2) {
    next.set(edges[i], edges[i + 1]);
    ends.add(edges[i + 1]);
  }
  const paths: number[][] = [];
  for (const start of next.keys()) {
    if (ends.has(start)) continue;
    const path = [start];
    for (let id = next.get(start); id !== undefined && path.length <= next.size; id = next.get(id))
      path.push(id);
    paths.push(path);
  }
  return paths;
}
