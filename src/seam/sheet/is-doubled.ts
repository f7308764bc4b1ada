import { joinIndices } from '../../mesh/part/join-indices.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';
import type { DividedRun } from '../split.ts';
import type { SheetCrossing } from './cross-sheet.ts';
import type { CreaseSpan, SegmentFace } from './sheet-faces.ts';

/**
 * True where a sheet's faces and the skin would not close a part: a face shares an edge inside it with the skin (skin lies
 * in the sheet, or meets it from outside), two faces meet in the skin, or a face has a triangle with two equal corners.
 */
export function isDoubled(
  crossing: SheetCrossing,
  spans: readonly CreaseSpan[],
  divided: readonly DividedRun[],
  runs: readonly Uint32Array[],
  faces: readonly SegmentFace[],
  caps: readonly Uint32Array[],
): boolean {
  const outline = new PairTable(1024);
  const inside = new PairTable(8);
  for (const { rings } of faces) {
    for (const ring of rings)
      for (let i = 0; i < ring.length; i++)
        numberEdge(outline, ring[i], ring[i + 1 < ring.length ? i + 1 : 0]);
  }
  for (const [f, { rings }] of faces.entries()) {
    const ids = joinIndices(rings);
    const cap = caps[f];
    for (let i = 0; i < cap.length; i++) {
      const a = ids[cap[i]];
      const b = ids[cap[i % 3 === 2 ? i - 2 : i + 1]];
      if (a === b) return true;
      if (!hasEdge(outline, a, b)) numberEdge(inside, a, b);
    }
  }
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
  // Whole triangles have such an edge only where corners of theirs lie in the sheet.
  if (!faces.some(({ rings }) => rings.some((ring) => ring.some((id) => id < crossing.ownCount))))
    return false;
  return runs.some((triangles) => isShared(triangles, 0, triangles.length));
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
