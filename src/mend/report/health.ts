import type { Vec3 } from '../../math/vec3.ts';
import { boundsOf, middleOf } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { type Audit, auditMesh } from '../../mesh/topology/audit.ts';
import { holeOutlines } from '../holes/hole-outlines.ts';
import { specksOf } from '../shells/drop-specks.ts';
import { findFarSpecks } from '../shells/far-specks.ts';
import { faultyShells } from '../shells/faulty-shells.ts';
import { relateShells } from '../shells/overlaps.ts';
import { shellBlocks } from '../shells/shell-blocks.ts';
import { diagonalOf, type Shell, shellsOf } from '../shells/shell-parts.ts';
import { type EdgeGroups, groupEdges, nextHalf } from '../touching/edge-groups.ts';
import { pairEdges } from '../touching/pair-edges.ts';
import { splitVertices } from '../touching/split-vertices.ts';
import { findDoubled } from '../triangles/doubled-skin.ts';
import { dropTriangles } from '../triangles/drop-triangles.ts';
import { MEND_TUNING } from '../tuning.ts';
import { insideOutShells } from '../winding/outward.ts';
import { findCrossings } from './self-crossings.ts';

export type DefectKind =
  /** Counted by hole outlines. */
  | 'open-edges'
  | 'non-manifold-edges'
  | 'non-manifold-vertices'
  | 'winding-errors'
  | 'inside-out-shells'
  | 'doubled-surfaces'
  | 'specks'
  | 'degenerate-triangles'
  /** Pairs of triangles of one shell. */
  | 'self-intersections'
  | 'nested-shells'
  /** Pairs of shells. */
  | 'overlapping-shells';

export interface Defect {
  kind: DefectKind;
  count: number;
  /** Where, mm in the mesh's coordinates: the first few hundred. */
  places: Vec3[];
}

/** Everything about a mesh that printing or cutting may stumble over. */
export interface Health {
  /** Kinds that were found, in the order of `DefectKind`. */
  defects: Defect[];
  /** False where looking for crossing triangles ran out of time: more may cross than are counted. */
  crossingsComplete: boolean;
}

/**
 * Examines a mesh through and through. Slow on a big figure, some seconds a million triangles: for when somebody asks.
 * @param crossingsMs time that looking for crossings may take.
 */
export function checkHealth(mesh: Mesh, crossingsMs: number = MEND_TUNING.crossingsMs): Health {
  const audit = auditMesh(mesh);
  const shells = shellsOf(mesh, audit);
  const crossings = findCrossings(mesh, crossingsMs);
  const found = [
    ...rimDefects(mesh),
    ...edgeDefects(withoutPointed(mesh, audit)),
    ...triangleDefects(mesh, audit),
    ...shellDefects(mesh, audit, shells, crossings.pairs),
  ];
  const defects = ORDER.flatMap((kind) => found.filter((defect) => defect.kind === kind && defect.count > 0));
  return { defects, crossingsComplete: crossings.complete };
}

const ORDER: readonly DefectKind[] = [
  'open-edges',
  'non-manifold-edges',
  'non-manifold-vertices',
  'winding-errors',
  'inside-out-shells',
  'doubled-surfaces',
  'specks',
  'degenerate-triangles',
  'self-intersections',
  'nested-shells',
  'overlapping-shells',
];

function defectOf<T>(kind: DefectKind, all: readonly T[], placeOf: (one: T) => Vec3): Defect {
  return { kind, count: all.length, places: all.slice(0, MEND_TUNING.places).map(placeOf) };
}

/** Middle of vertices, mm. */
function middleAt({ positions: p }: Mesh, vertices: ArrayLike<number>): Vec3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < vertices.length; i++) for (let k = 0; k < 3; k++) sum[k] += p[vertices[i] * 3 + k];
  return [sum[0] / vertices.length, sum[1] / vertices.length, sum[2] / vertices.length];
}

const cornersOf = ({ triangles: t }: Mesh, triangle: number) => t.subarray(triangle * 3, triangle * 3 + 3);

/** Triangles with two equal corners have no edges to speak of. */
function withoutPointed(mesh: Mesh, { pointedTriangles }: Audit): Mesh {
  if (pointedTriangles.length === 0) return mesh;
  const drop = new Uint8Array(mesh.triangles.length / 3);
  for (const triangle of pointedTriangles) drop[triangle] = 1;
  return dropTriangles(mesh, drop);
}

function rimDefects(mesh: Mesh): Defect[] {
  return [defectOf('open-edges', holeOutlines(mesh), (ring) => middleAt(mesh, ring))];
}

function edgeDefects(mesh: Mesh): Defect[] {
  const groups = groupEdges(mesh);
  const placeOf = (h: number) => middleAt(mesh, [mesh.triangles[h], mesh.triangles[nextHalf(h)]]);
  const crowded = edgesWhere(groups, (size) => size > 2);
  const misWound = edgesWhere(groups, (size, at) => {
    const [a, b] = [groups.halves[at], groups.halves[at + 1]];
    return size === 2 && mesh.triangles[a] === mesh.triangles[b];
  });
  const { split } = splitVertices(mesh, pairEdges(mesh));
  // A crowded edge splits its ends: those are told with the edge.
  const ends = new Set(crowded.flatMap((h) => [mesh.triangles[h], mesh.triangles[nextHalf(h)]]));
  const vertices = split.filter((v) => !ends.has(v));
  return [
    defectOf('non-manifold-edges', crowded, placeOf),
    defectOf('winding-errors', misWound, placeOf),
    defectOf('non-manifold-vertices', vertices, (v) => middleAt(mesh, [v])),
  ];
}

/** A half-edge of every edge that `choose` takes, told how many there are and where they begin. */
function edgesWhere({ starts, halves }: EdgeGroups, choose: (size: number, at: number) => boolean): number[] {
  const chosen: number[] = [];
  for (let g = 0; g + 1 < starts.length; g++) {
    if (choose(starts[g + 1] - starts[g], starts[g])) chosen.push(halves[starts[g]]);
  }
  return chosen;
}

function triangleDefects(mesh: Mesh, audit: Audit): Defect[] {
  const placeOf = (triangle: number) => middleAt(mesh, cornersOf(mesh, triangle));
  return [
    defectOf('doubled-surfaces', [...new Set([...audit.duplicates, ...findDoubled(mesh)])], placeOf),
    defectOf('degenerate-triangles', [...audit.pointedTriangles, ...flatTriangles(mesh)], placeOf),
  ];
}

/** Triangles with three different corners in one line. */
function flatTriangles({ positions: p, triangles: t }: Mesh): number[] {
  const flat: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    if (a === b || b === c || c === a) continue;
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    if (ux * vy === uy * vx && uy * vz === uz * vy && uz * vx === ux * vz) flat.push(i / 3);
  }
  return flat;
}

/** Below what diagonal a shell is a speck, mm: beside the figure, or as far ones must be dropped. */
const speckSize = (mesh: Mesh, audit: Audit): number =>
  Math.max(
    MEND_TUNING.speckShare * diagonalOf(boundsOf(mesh)),
    findFarSpecks(shellBlocks(mesh, audit))?.belowMm ?? 0,
  );

function shellDefects(
  mesh: Mesh,
  audit: Audit,
  shells: readonly Shell[],
  pairs: readonly number[],
): Defect[] {
  const isFaulty = faultyShells(mesh, audit);
  const { hollows, overlaps } = relateShells(shells, isFaulty, audit.shellOf, pairs);
  const inside = insideOutShells(shells, isFaulty);
  const placeOf = (shell: Shell) => middleAt(mesh, cornersOf(mesh, shell.ids[0]));
  const specks = specksOf(shells, speckSize(mesh, audit));
  const own = [...pairs.keys()].filter(
    (i) => i % 2 === 0 && audit.shellOf[pairs[i]] === audit.shellOf[pairs[i + 1]],
  );
  return [
    defectOf('inside-out-shells', inside, (i) => placeOf(shells[i])),
    defectOf('specks', specks, placeOf),
    defectOf('self-intersections', own, (i) => middleAt(mesh, cornersOf(mesh, pairs[i]))),
    defectOf('nested-shells', hollows, ({ shell }) => placeOf(shells[shell])),
    defectOf('overlapping-shells', overlaps, ([, b]) => middleOf(shells[b].bounds)),
  ];
}
