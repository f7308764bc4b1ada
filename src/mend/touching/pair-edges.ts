import type { Mesh } from '../../mesh/mesh.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import { MEND_TUNING } from '../tuning.ts';
import { groupEdges, nextHalf } from './edge-groups.ts';

/** The mate of a half-edge that has none. */
export const NO_MATE = -1;

export interface Pairing {
  /** Per half-edge (see `EdgeGroups`) the one it is sewn to, or `NO_MATE`. */
  mates: Int32Array;
  /** Edges of more than two triangles, which were taken apart. */
  splitCount: number;
  /** Their ends. */
  crowdedVertices: Set<number>;
}

/**
 * Sews triangles together two by two across every edge. Where more than two meet, those that bound the same
 * wedge of material belong together: solids that touch come apart, and each keeps its own surface.
 * The mesh has no triangles with two equal corners.
 */
export function pairEdges(mesh: Mesh): Pairing {
  const { starts, halves } = groupEdges(mesh);
  const mates = new Int32Array(mesh.triangles.length).fill(NO_MATE);
  const shells = newShells(mesh.triangles.length / 3);
  const crowded: number[] = [];
  const open: number[] = [];
  for (let g = 0; g + 1 < starts.length; g++) {
    const size = starts[g + 1] - starts[g];
    if (size === 2) {
      sew(mates, halves[starts[g]], halves[starts[g] + 1]);
      joinShells(shells, (halves[starts[g]] / 3) | 0, (halves[starts[g] + 1] / 3) | 0);
    } else if (size > 2) crowded.push(g);
    else open.push((halves[starts[g]] / 3) | 0);
  }
  if (crowded.length > 0) {
    const isOpen = openShells(shells, open);
    for (const g of crowded) {
      const all = [...halves.subarray(starts[g], starts[g + 1])];
      // A surface with a rim elsewhere is a wall or a fin: closed surfaces find each other first.
      const closed = all.filter((h) => isOpen[rootOf(shells, (h / 3) | 0)] === 0);
      const first = isBalanced(mesh, closed) ? closed : all;
      pairAround(mesh, mates, first);
      pairAround(
        mesh,
        mates,
        all.filter((h) => !first.includes(h)),
      );
    }
  }
  const ends = crowded.flatMap((g) => [halves[starts[g]], nextHalf(halves[starts[g]])]);
  const crowdedVertices = new Set(ends.map((h) => mesh.triangles[h]));
  return { mates, splitCount: crowded.length, crowdedVertices };
}

function sew(mates: Int32Array, a: number, b: number): void {
  mates[a] = b;
  mates[b] = a;
}

/** Marks, by its root, every shell that has an open edge. */
function openShells(shells: Uint32Array, open: readonly number[]): Uint8Array {
  const isOpen = new Uint8Array(shells.length);
  for (const triangle of open) isOpen[rootOf(shells, triangle)] = 1;
  return isOpen;
}

/** A half-edge runs forward from the smaller of its vertices to the larger. */
const isForward = ({ triangles: t }: Mesh, h: number): boolean => t[h] < t[nextHalf(h)];

function isBalanced(mesh: Mesh, group: readonly number[]): boolean {
  const forward = group.filter((h) => isForward(mesh, h)).length;
  return forward * 2 === group.length;
}

/**
 * Pairs the half-edges round one edge. Going round it counter-clockwise (seen against its direction), material
 * begins behind a triangle that runs backward and ends at one that runs forward, so these are matched as brackets
 * are. What is left over all runs one way, some of it wrongly: neighbours are paired.
 */
function pairAround(mesh: Mesh, mates: Int32Array, group: readonly number[]): void {
  const round = sortedRound(mesh, group);
  const begun: number[] = [];
  const done = new Set<number>();
  // Twice round, for a wedge may begin before the first triangle and end behind it.
  for (const h of [...round, ...round]) {
    if (done.has(h) || begun.includes(h)) continue;
    if (!isForward(mesh, h)) begun.push(h);
    else if (begun.length > 0) {
      const beginning = begun.pop() as number;
      sew(mates, beginning, h);
      done.add(beginning).add(h);
    }
  }
  const left = round.filter((h) => !done.has(h));
  for (let i = 0; i + 1 < left.length; i += 2) sew(mates, left[i], left[i + 1]);
}

/** By angle round the edge; of triangles that lie on each other those that end material come first. */
function sortedRound(mesh: Mesh, group: readonly number[]): number[] {
  const angles = anglesRound(mesh, group);
  const order = group.map((h, i) => ({ h, angle: angles[i], begins: isForward(mesh, h) ? 0 : 1 }));
  order.sort((a, b) => a.angle - b.angle || a.begins - b.begins);
  return order.map(({ h }) => h);
}

/** Angles from the group's first triangle, 0 up to 2π, in whole steps of `sameAngle`. */
function anglesRound({ positions: p, triangles: t }: Mesh, group: readonly number[]): number[] {
  if (group.length === 0) return [];
  const [a, b] = [t[group[0]], t[nextHalf(group[0])]];
  const [low, high] = [Math.min(a, b) * 3, Math.max(a, b) * 3];
  const [ax, ay, az] = [p[high] - p[low], p[high + 1] - p[low + 1], p[high + 2] - p[low + 2]];
  const length = Math.hypot(ax, ay, az) || 1;
  const away = (h: number) => {
    const o = t[nextHalf(nextHalf(h))] * 3;
    return [p[o] - p[low], p[o + 1] - p[low + 1], p[o + 2] - p[low + 2]] as const;
  };
  const [rx, ry, rz] = away(group[0]);
  // Across the edge and the first triangle's arm: axis × arm.
  const [sx, sy, sz] = [ay * rz - az * ry, az * rx - ax * rz, ax * ry - ay * rx];
  const [cx, cy, cz] = [
    (sy * az - sz * ay) / length,
    (sz * ax - sx * az) / length,
    (sx * ay - sy * ax) / length,
  ];
  const step = MEND_TUNING.sameAngle;
  const whole = Math.round((2 * Math.PI) / step);
  return group.map((h) => {
    const [x, y, z] = away(h);
    const angle = Math.atan2(x * sx + y * sy + z * sz, x * cx + y * cy + z * cz);
    return (Math.round(angle / step) + whole) % whole;
  });
}
