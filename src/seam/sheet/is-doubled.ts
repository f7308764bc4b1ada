import { toFrame } from '../../math/plane.ts';
import { windingAt } from '../../math/polygon.ts';
import { turn } from '../../math/predicates.ts';
import { dot, sub, type Vec3 } from '../../math/vec3.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { coordinate } from '../../mesh/part/vertices.ts';
import type { Ring } from '../../mesh/plane/outline.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';
import type { DividedRun } from '../split.ts';
import type { SheetCrossing } from './cross-sheet.ts';
import type { CreaseSpan, SegmentFace } from './sheet-faces.ts';

/**
 * True where a sheet's faces and the skin would not close a part: a face shares an edge inside it with the skin (skin lies
 * in the sheet, or meets it from outside), two faces meet in the skin or inside each other, or a face has a triangle with two
 * equal corners.
 */
export function isDoubled(
  crossing: SheetCrossing,
  spans: readonly CreaseSpan[],
  divided: readonly DividedRun[],
  runs: readonly Uint32Array[],
  faces: readonly SegmentFace[],
  caps: readonly Uint32Array[],
): boolean {
  const inside = insideEdges(faces, caps);
  if (inside === null) return true;
  if (meetInSkin(crossing, spans, faces)) return true;
  const isShared = (triangles: ArrayLike<number>, from: number, end: number) => {
    for (let i = from; i < end; i++) {
      if (hasEdge(inside, triangles[i], triangles[i % 3 === 2 ? i - 2 : i + 1])) return true;
    }
    return false;
  };
  const segmentsAt = segmentsThrough(crossing);
  const isWrong = (made: Uint32Array) => liesInSegment(made, segmentsAt) || isShared(made, 0, made.length);
  if (divided.some(({ front, back }) => isWrong(front) || isWrong(back))) return true;
  if (hasSkinIn(crossing, faces, divided, runs)) return true;
  // Whole triangles have such an edge only where corners of theirs lie in the sheet.
  if (!faces.some(({ rings }) => rings.some((ring) => ring.some((id) => id < crossing.ownCount))))
    return false;
  return runs.some((triangles) => isShared(triangles, 0, triangles.length));
}

/**
 * The edges that caps have inside their faces; null where one of them has none to itself: a triangle with two equal corners,
 * or an edge that another face has as well, which skin that touches a corner of the sheet leaves there.
 */
function insideEdges(faces: readonly SegmentFace[], caps: readonly Uint32Array[]): PairTable | null {
  const outlines = faces.map(({ rings }) => outlineEdges(rings));
  const outline = outlineEdges(faces.flatMap(({ rings }) => rings));
  const inside = new PairTable(8);
  const faceOf: number[] = [];
  for (const [f, { rings }] of faces.entries()) {
    const ids = joinIndices(rings);
    const cap = caps[f];
    for (let i = 0; i < cap.length; i++) {
      const a = ids[cap[i]];
      const b = ids[cap[i % 3 === 2 ? i - 2 : i + 1]];
      if (a === b) return null;
      if (hasEdge(outlines[f], a, b)) continue;
      if (hasEdge(outline, a, b)) return null;
      const number = numberEdge(inside, a, b);
      faceOf[number] ??= f;
      if (faceOf[number] !== f) return null;
    }
  }
  return inside;
}

function outlineEdges(rings: readonly Ring[]): PairTable {
  const edges = new PairTable(1024);
  for (const ring of rings)
    for (let i = 0; i < ring.length; i++) numberEdge(edges, ring[i], ring[i + 1 < ring.length ? i + 1 : 0]);
  return edges;
}

/** True where faces of two segments have an edge in common that is no crease: a corner of the sheet lies in the skin. */
function meetInSkin(
  { idOf }: SheetCrossing,
  spans: readonly CreaseSpan[],
  faces: readonly SegmentFace[],
): boolean {
  const creases = new PairTable(spans.length + 8);
  for (const { low, high } of spans) numberEdge(creases, idOf(low), idOf(high));
  const walked = new PairTable(1024);
  for (const { rings } of faces) {
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i++) {
        const next = ring[i + 1 < ring.length ? i + 1 : 0];
        if (walked.find(next, ring[i]) >= 0 && !hasEdge(creases, ring[i], next)) return true;
        walked.number(ring[i], next);
      }
    }
  }
  return false;
}

/** True where skin, divided or not, lies in a face: between the two there would be a film of no thickness. */
function hasSkinIn(
  { vertices, met }: SheetCrossing,
  faces: readonly SegmentFace[],
  divided: readonly DividedRun[],
  runs: readonly Uint32Array[],
): boolean {
  const near = snapDistance(vertices);
  const placeOf = (v: number): Vec3 => [0, 1, 2].map((k) => coordinate(vertices, v, k)) as unknown as Vec3;
  const liesIn = ({ frame, loops }: SegmentFace, corners: Uint32Array) => {
    for (const v of corners) if (Math.abs(dot(frame.n, sub(placeOf(v), frame.origin))) > near) return false;
    const [a, b, c] = Array.from(corners, (v) => toFrame(frame, placeOf(v)));
    if (Math.abs(turn(...a, ...b, ...c)) <= near * near) return false;
    return windingAt(loops, (a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3) !== 0;
  };
  const anyIn = (some: readonly SegmentFace[], triangles: Uint32Array, from: number, end: number) => {
    for (let i = from; i < end; i += 3) {
      const corners = triangles.subarray(i, i + 3);
      if (some.some((face) => liesIn(face, corners))) return true;
    }
    return false;
  };
  return runs.some((triangles, run) => {
    const { starts } = blocksOf(vertices, triangles);
    const { front, back } = divided[run];
    return (
      [front, back].some((made) => anyIn(faces, made, 0, made.length)) ||
      met[run].some(({ block, segments }) => {
        const own = faces.filter(({ segment }) => segments.includes(segment));
        return anyIn(own, triangles, starts[block], starts[block + 1]);
      })
    );
  });
}

/** The segments that pass through each id. */
function segmentsThrough({ triangles, idOf }: SheetCrossing): Map<number, Set<number>> {
  const found = new Map<number, Set<number>>();
  const add = (id: number, segment: number) => {
    const known = found.get(id);
    if (known) known.add(segment);
    else found.set(id, new Set([segment]));
  };
  for (const { chords } of triangles) {
    for (const { ids, segment } of chords) {
      for (let n = 0; n + 1 < ids.length; n++) {
        add(idOf(ids[n]), segment + n);
        add(idOf(ids[n + 1]), segment + n);
      }
    }
  }
  return found;
}

/** True where a segment passes through all corners of a triangle: skin that lies in the sheet. */
function liesInSegment(triangles: Uint32Array, through: ReadonlyMap<number, ReadonlySet<number>>): boolean {
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => through.get(triangles[i + k]));
    if (a && b && c && [...a].some((segment) => b.has(segment) && c.has(segment))) return true;
  }
  return false;
}

const numberEdge = (edges: PairTable, a: number, b: number): number =>
  edges.number(Math.min(a, b), Math.max(a, b));

const hasEdge = (edges: PairTable, a: number, b: number): boolean =>
  edges.find(Math.min(a, b), Math.max(a, b)) >= 0;
