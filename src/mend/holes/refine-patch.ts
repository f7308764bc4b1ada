import { edgeKey } from '../../mesh/topology/edges.ts';
import { MEND_TUNING } from '../tuning.ts';
import type { IsTaken } from './span-outline.ts';

/** A surface being shaped: points (x, y, z each) and triangles over them. The first `fixedCount` points are its rim. */
export interface Patch {
  points: number[];
  triangles: number[];
  fixedCount: number;
}

/**
 * Makes a patch as dense as what surrounds it (Liepa, *Symposium on Geometry Processing* 2003): a triangle whose
 * middle lies far from its corners, measured by the length of edges there, gets a point in its middle; edges are
 * then swapped to keep triangles round. Ends at `MEND_TUNING.patchPoints` points at the latest.
 * @param scales mean length of edges at each rim point, mm; points put in get their triangle's mean.
 */
export function refinePatch(patch: Patch, scales: number[], isTaken: IsTaken): void {
  const n = patch.fixedCount;
  const most = n + Math.min(MEND_TUNING.patchPoints, 16 + n * n * MEND_TUNING.pointsPerCorner);
  for (let grown = true; grown; ) {
    grown = false;
    const before = patch.triangles.length;
    for (let i = 0; i < before && scales.length < most; i += 3)
      grown = splitIfWide(patch, scales, i) || grown;
    if (grown) roundOff(patch, isTaken);
  }
}

function splitIfWide({ points: p, triangles: t }: Patch, scales: number[], i: number): boolean {
  const [a, b, c] = [t[i], t[i + 1], t[i + 2]];
  const middle = [0, 1, 2].map((k) => (p[a * 3 + k] + p[b * 3 + k] + p[c * 3 + k]) / 3);
  const scale = (scales[a] + scales[b] + scales[c]) / 3;
  for (const v of [a, b, c]) {
    const far = Math.hypot(p[v * 3] - middle[0], p[v * 3 + 1] - middle[1], p[v * 3 + 2] - middle[2]);
    if (MEND_TUNING.densify * far <= Math.max(scale, scales[v])) return false;
  }
  const m = scales.length;
  p.push(...middle);
  scales.push(scale);
  t[i + 2] = m;
  t.push(b, c, m, c, a, m);
  return true;
}

/** Rounds of swaps: in a plane far fewer suffice; on a surface that bends swaps might go round in a ring. */
const SWAP_ROUNDS = 40;

/** Swaps edges whose two opposite angles are together more than half a turn (Delaunay's condition) until none is. */
function roundOff(patch: Patch, isTaken: IsTaken): void {
  const { triangles: t } = patch;
  const triangleOf = new Map<number, number>();
  const enter = (i: number) => {
    for (let k = 0; k < 3; k++) triangleOf.set(edgeKey(t[i + k], t[i + ((k + 1) % 3)]), i);
  };
  for (let i = 0; i < t.length; i += 3) enter(i);
  for (let round = 0, swapped = true; swapped && round < SWAP_ROUNDS; round++) {
    swapped = false;
    for (let h = 0; h < t.length; h++) {
      const i = h - (h % 3);
      const [a, b, c] = [t[h], t[i + ((h + 1) % 3)], t[i + ((h + 2) % 3)]];
      const j = triangleOf.get(edgeKey(b, a));
      if (j === undefined) continue;
      const d = t[j] + t[j + 1] + t[j + 2] - a - b;
      if (triangleOf.has(edgeKey(c, d)) || triangleOf.has(edgeKey(d, c))) continue;
      if (c < patch.fixedCount && d < patch.fixedCount && isTaken(c, d)) continue;
      if (cornerAngle(patch.points, a, c, b) + cornerAngle(patch.points, b, d, a) <= Math.PI + 1e-9) continue;
      triangleOf.delete(edgeKey(a, b));
      triangleOf.delete(edgeKey(b, a));
      t.splice(i, 3, a, d, c);
      t.splice(j, 3, b, c, d);
      enter(i);
      enter(j);
      swapped = true;
    }
  }
}

/** Angle at b between a and c, radians. */
function cornerAngle(p: readonly number[], a: number, b: number, c: number): number {
  const [ux, uy, uz] = [p[a * 3] - p[b * 3], p[a * 3 + 1] - p[b * 3 + 1], p[a * 3 + 2] - p[b * 3 + 2]];
  const [vx, vy, vz] = [p[c * 3] - p[b * 3], p[c * 3 + 1] - p[b * 3 + 1], p[c * 3 + 2] - p[b * 3 + 2]];
  const sine = Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  return Math.atan2(sine, ux * vx + uy * vy + uz * vz);
}
