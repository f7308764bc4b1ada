import type { Kernel } from '../../kernel/load.ts';
import { capTriangles } from '../cap.ts';
import type { CrossedTriangle } from './cross-sheet.ts';

/** A piece of a triangle between chords: the vertices around it, in the triangle's order, and their places in it. */
export interface TrianglePiece {
  ids: number[];
  places: number[];
  /** Some of its corners may point inward. */
  isBent: boolean;
}

/** The pieces of a crossed triangle on the left of the sheet (1) or on its right (−1). */
export function piecesOn(
  { ids, places, after, chordAt, chords }: CrossedTriangle,
  side: 1 | -1,
  placeOf: (id: number) => readonly [number, number],
): TrianglePiece[] {
  const pieces: TrianglePiece[] = [];
  const isWalked = new Uint8Array(ids.length);
  for (let start = 0; start < ids.length; start++) {
    if (chordAt[start] < 0 || after[start] !== side || isWalked[start] === 1) continue;
    const piece: TrianglePiece = { ids: [], places: [], isBent: false };
    let at = start;
    do {
      isWalked[at] = 1;
      do {
        piece.ids.push(ids[at]);
        piece.places.push(places[at * 2], places[at * 2 + 1]);
        at = at + 1 < ids.length ? at + 1 : 0;
      } while (chordAt[at] < 0);
      piece.ids.push(ids[at]);
      piece.places.push(places[at * 2], places[at * 2 + 1]);
      const chord = chords[chordAt[at]];
      const isForward = chord.from === at;
      for (let n = 1; n + 1 < chord.ids.length; n++) {
        const id = chord.ids[isForward ? n : chord.ids.length - 1 - n];
        piece.ids.push(id);
        piece.places.push(...placeOf(id));
        piece.isBent = true;
      }
      at = isForward ? chord.to : chord.from;
    } while (at !== start);
    pieces.push(piece);
  }
  return pieces;
}

/** A piece's triangles, as ids, wound as the triangle is; ones with two equal corners are left out. */
export function fillPiece(
  kernel: Kernel,
  piece: TrianglePiece,
  idOf: (id: number) => number,
  to: number[],
): void {
  const { ids, places, isBent } = piece;
  if (!isBent || ids.length === 3) {
    for (let k = 2; k < ids.length; k++) pushTriangle(idOf(ids[0]), idOf(ids[k - 1]), idOf(ids[k]), to);
    return;
  }
  const triangles = capTriangles(kernel, [Float64Array.from(places)]);
  for (let i = 0; i < triangles.length; i += 3) {
    pushTriangle(idOf(ids[triangles[i]]), idOf(ids[triangles[i + 1]]), idOf(ids[triangles[i + 2]]), to);
  }
}

function pushTriangle(a: number, b: number, c: number, to: number[]): void {
  if (a !== b && b !== c && c !== a) to.push(a, b, c);
}
