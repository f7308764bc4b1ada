import { triangulatePolygon } from '../../mesh/polygon/triangulate-polygon.ts';
import { MEND_TUNING } from '../tuning.ts';
import { type IsTaken, NO_APEX, type Outline, spanOutline } from './span-outline.ts';

/**
 * Spans an outline of any length. Up to `MEND_TUNING.outlineCorners` corners it is spanned at its best. A longer one
 * is triangulated in the plane it lies in best, if it does not cross itself there (see `clipEars`); else it is
 * divided by a short chord until the pieces are short enough, in about n · `outlineCorners`² besides the search.
 * Null where no way keeps clear of taken edges.
 */
export function divideOutline(p: Float32Array, outline: Outline, isTaken: IsTaken): Uint32Array | null {
  const n = outline.ring.length;
  if (n <= MEND_TUNING.outlineCorners) return spanOutline(p, outline, isTaken);
  const flat = spanInPlane(p, outline, isTaken);
  if (flat) return flat;
  const chord = shortChord(p, outline.ring, isTaken);
  if (!chord) return null;
  const pieces = cutAlong(outline, chord).map((piece) => divideOutline(p, piece, isTaken));
  if (!pieces[0] || !pieces[1]) return null;
  return Uint32Array.of(...pieces[0], ...pieces[1]);
}

/** The triangulation seen along the outline's mean normal, null where it folds over there or takes a taken edge. */
function spanInPlane(p: Float32Array, { ring }: Outline, isTaken: IsTaken): Uint32Array | null {
  const n = ring.length;
  const triangles = new Uint32Array((n - 2) * 3);
  triangulatePolygon(p, Uint32Array.from(ring), triangles, 0);
  const placeOf = new Map(Array.from(ring, (v, i) => [v, i]));
  const normals = new Float64Array(triangles.length);
  const sum = [0, 0, 0];
  for (let i = 0; i < triangles.length; i += 3) {
    crossOf(p, triangles, i, normals);
    for (let k = 0; k < 3; k++) sum[k] += normals[i + k];
  }
  for (let i = 0; i < triangles.length; i += 3) {
    const up = normals[i] * sum[0] + normals[i + 1] * sum[1] + normals[i + 2] * sum[2];
    if (up <= 0) return null;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[i + k], triangles[i + ((k + 1) % 3)]];
      const apart = Math.abs((placeOf.get(a) as number) - (placeOf.get(b) as number));
      if (apart > 1 && apart < n - 1 && isTaken(a, b)) return null;
    }
  }
  return triangles;
}

function crossOf(p: Float32Array, t: Uint32Array, i: number, into: Float64Array): void {
  const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  into[i] = uy * vz - uz * vy;
  into[i + 1] = uz * vx - ux * vz;
  into[i + 2] = ux * vy - uy * vx;
}

/** A chord as short as can be found in a bounded time between corners at least a quarter of the outline apart. */
function shortChord(p: Float32Array, ring: ArrayLike<number>, isTaken: IsTaken): [number, number] | null {
  const n = ring.length;
  const step = Math.max(1, Math.ceil(Math.sqrt((n * n) / 4 / MEND_TUNING.chordTrials)));
  let best: [number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i += step) {
    for (let k = i + Math.ceil(n / 4); k < n && k - i <= (3 * n) / 4; k += step) {
      const [a, b] = [ring[i] * 3, ring[k] * 3];
      const far = Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
      if (far < least && !isTaken(ring[i], ring[k])) {
        least = far;
        best = [i, k];
      }
    }
  }
  return best;
}

/** The two outlines on either side of a chord; beyond the chord nothing is known yet. */
function cutAlong({ ring, apexes }: Outline, [i, k]: [number, number]): [Outline, Outline] {
  const rings = Array.from(ring);
  const tops = Array.from(apexes);
  return [
    { ring: rings.slice(i, k + 1), apexes: [...tops.slice(i, k), NO_APEX] },
    {
      ring: [...rings.slice(k), ...rings.slice(0, i + 1)],
      apexes: [...tops.slice(k), ...tops.slice(0, i), NO_APEX],
    },
  ];
}
