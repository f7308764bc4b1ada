import type { PlaneFrame } from '../../math/plane.ts';
import type { Loop } from '../../math/polygon.ts';
import type { Vec3 } from '../../math/vec3.ts';
import { vertexCount } from '../../mesh/part/vertices.ts';
import { cancelOpposite } from '../../mesh/plane/crossing.ts';
import { chainRings, pointsIn, type Ring } from '../../mesh/plane/outline.ts';
import type { Chord, CrossedTriangle, Piercing, SheetCrossing } from './cross-sheet.ts';
import { segmentFrame } from './profile.ts';

/** What a segment of a sheet cuts: a flat face. */
export interface SegmentFace {
  segment: number;
  frame: PlaneFrame;
  /** Outlines, counter-clockwise around material seen from the front: ids, and points in the frame. */
  rings: Ring[];
  loops: Loop[];
}

/** Material on the line along which a corner of the chain is swept: two ids, the lower end first. */
export interface CreaseSpan {
  corner: number;
  low: number;
  high: number;
}

/** Heights no farther apart than this, mm, may stand in either order. */
const SAME_HEIGHT = 1e-6;

/**
 * Where the lines along which a sheet's corners are swept lie within material. `isPlain` is false where shells overlap
 * there: what bounds which face cannot be told.
 */
export function creaseSpans(piercings: readonly Piercing[]): { spans: CreaseSpan[]; isPlain: boolean } {
  const byCorner = new Map<number, Piercing[]>();
  for (const one of piercings) byCorner.set(one.corner, [...(byCorner.get(one.corner) ?? []), one]);
  const spans: CreaseSpan[] = [];
  let isPlain = true;
  for (const [corner, all] of byCorner) {
    const rising = all.sort((a, b) => a.height - b.height);
    let low: number | null = null;
    while (rising.length > 0) {
      const wanted = low === null ? -1 : 1;
      const limit = rising[0].height + SAME_HEIGHT;
      const next = rising.findIndex(({ height, leaves }) => height <= limit && leaves === wanted);
      if (next < 0) isPlain = false;
      const [{ id }] = rising.splice(Math.max(0, next), 1);
      if (low === null) low = id;
      else {
        spans.push({ corner, low, high: id });
        low = null;
      }
    }
    if (low !== null) isPlain = false;
  }
  return { spans, isPlain };
}

/** Which of its two ends the pieces on the left of a sheet walk a chord from. */
export function leftStart({ after }: CrossedTriangle, { from, to }: Chord): number {
  const before = from > 0 ? after[from - 1] : after[after.length - 1];
  return before > 0 ? from : to;
}

/** The faces that a sheet cuts, segment by segment. `near` (recentred mm) chooses their frames' origins. */
export function sheetFaces(crossing: SheetCrossing, spans: readonly CreaseSpan[], near: Vec3): SegmentFace[] {
  const { profile, vertices, ownCount, idOf } = crossing;
  const edges = Array.from({ length: profile.x.length - 1 }, (): number[] => []);
  const push = (segment: number, from: number, to: number) => {
    const [a, b] = [idOf(from), idOf(to)];
    if (a !== b) edges[segment].push(a, b);
  };
  for (const triangle of crossing.triangles) {
    for (const chord of triangle.chords) {
      const isForward = leftStart(triangle, chord) === chord.from;
      for (let n = 0; n + 1 < chord.ids.length; n++) {
        const [a, b] = [chord.ids[n], chord.ids[n + 1]];
        if (isForward) push(chord.segment + n, a, b);
        else push(chord.segment + n, b, a);
      }
    }
  }
  // Seen from the front a segment runs to the left: its end is the left side of what it cuts, walked downwards.
  for (const { corner, low, high } of spans) {
    push(corner - 1, high, low);
    push(corner, low, high);
  }
  return edges.flatMap((own, segment): SegmentFace[] => {
    if (own.length === 0) return [];
    const frame = segmentFrame(profile, segment, near);
    const left = cancelOpposite(Uint32Array.from(own), ownCount, vertexCount(vertices));
    const rings = chainRings(left, vertices, frame, ownCount);
    return [{ segment, frame, rings, loops: rings.map((ring) => pointsIn(frame, vertices, ring)) }];
  });
}
