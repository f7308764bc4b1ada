import { PegwrightError } from '../../errors.ts';
import type { Kernel } from '../../kernel/load.ts';
import type { Plane } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { normalize, scale, type Vec3 } from '../../math/vec3.ts';
import { measureMesh } from '../../mesh/measure.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { meshOf, type Part } from '../../mesh/part/part.ts';
import { allPositions } from '../../mesh/part/vertices.ts';
import type { Nesting } from '../../model/contact-seam.ts';
import type { Side } from '../../model/part-ref.ts';
import { turned } from '../contact/flat-faces.ts';
import { openEdges } from '../face.ts';
import { overlapBox } from './overlap-box.ts';
import { isMadeBy, type Trim, trimmed } from './trim.ts';

/** Two parts that overlapped, one of them trimmed by the other. */
export interface Nested {
  parts: Readonly<Record<Side, Part>>;
  /** The one that gave way. */
  gives: Side;
  /** Of the surface along which they meet now. */
  areaMm2: number;
  /** Its middle, recentred mm. */
  middle: Vec3;
  /** The way from the back part to the front one, square to the surface as a whole; null where it goes all round. */
  axis: Vec3 | null;
}

/** The gap's own margin around a box, in gaps: no mitre is longer than a corner of three faces has it. */
const MITRE = 4;
/** How far a box around what is shared stays off it, mm: more than rounding. */
const MARGIN = 0.05;

/**
 * Trims one of two parts by the other where they overlap, along the other's surface and a gap off it, and on a flat each
 * up to the flat; null where they do not overlap. `flat` is its plane, with the front part's side in front of it; `of`
 * what they are called, front first.
 * @throws PegwrightError `nest-swallowed` where one lies within the other; `nest-gap-crosses`, or the kernel's refusals.
 */
export function nest(
  kernel: Kernel,
  front: Part,
  back: Part,
  { gives: asked, gapMm, rimMm }: Nesting,
  flat: Plane | null,
  { seamId, originMm, of }: Pick<Trim, 'seamId' | 'originMm'> & { of: readonly [string, string] },
): Nested | null {
  const box = overlapBox(front, back, MARGIN + MITRE * gapMm);
  if (!box) return null;
  const before = { front, back };
  const gives = asked ?? largerOf(before);
  const keeps = gives === 'front' ? 'back' : 'front';
  // The keeper's own side of the flat: behind it for the back part.
  const from = flat && (keeps === 'back' ? turned(flat) : flat);
  const swallowed = (inner: Side) => {
    const [one, other] = inner === 'front' ? of : [of[1], of[0]];
    return new PegwrightError('nest-swallowed', { seamId, inner: one, outer: other });
  };
  const trim = { seamId, box, gapMm, rimMm, originMm };
  const parts = { ...before, [gives]: trimmed(kernel, before[gives], before[keeps], { ...trim, from }) };
  if (parts[gives].patches.length === 0) throw swallowed(gives);
  if (from) {
    const other = { ...trim, from: turned(from) };
    parts[keeps] = trimmed(kernel, before[keeps], before[gives], other);
    if (parts[keeps].patches.length === 0) throw swallowed(keeps);
  }
  const surface = surfaceOf(parts[gives], seamId);
  if (surface.areaMm2 < TOLERANCES.contactArea) return null;
  if (surface.isClosed) throw swallowed(keeps);
  const { areaMm2, middle, outward } = surface;
  return {
    parts,
    gives,
    areaMm2,
    middle,
    // What gave way looks out of itself along its surface, to the other.
    axis: outward && (gives === 'front' ? scale(outward, -1) : outward),
  };
}

/** What is put in stays whole: the larger one gives way. */
const largerOf = ({ front, back }: Readonly<Record<Side, Part>>): Side =>
  measureMesh(meshOf(front)).volumeMm3 > measureMesh(meshOf(back)).volumeMm3 ? 'front' : 'back';

interface Surface {
  areaMm2: number;
  middle: Vec3;
  outward: Vec3 | null;
  isClosed: boolean;
}

/** Share of its area below which a surface's normals, added up, tell no way. */
const ALL_ROUND = 1e-3;

/** What a part has of the surface along which it was trimmed, with flats that it got there. */
function surfaceOf(part: Part, seamId: string): Surface {
  const own = part.patches.filter((patch) => isMadeBy(patch, seamId));
  const triangles = joinIndices(own.map((patch) => patch.triangles));
  const p = allPositions(part);
  let areaMm2 = 0;
  let [sumX, sumY, sumZ] = [0, 0, 0];
  let [midX, midY, midZ] = [0, 0, 0];
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i] * 3;
    const b = triangles[i + 1] * 3;
    const c = triangles[i + 2] * 3;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const x = (uy * vz - uz * vy) / 2;
    const y = (uz * vx - ux * vz) / 2;
    const z = (ux * vy - uy * vx) / 2;
    const area = Math.sqrt(x * x + y * y + z * z);
    areaMm2 += area;
    sumX += x;
    sumY += y;
    sumZ += z;
    midX += (area * (p[a] + p[b] + p[c])) / 3;
    midY += (area * (p[a + 1] + p[b + 1] + p[c + 1])) / 3;
    midZ += (area * (p[a + 2] + p[b + 2] + p[c + 2])) / 3;
  }
  const sum: Vec3 = [sumX, sumY, sumZ];
  const hasWay = Math.hypot(...sum) > ALL_ROUND * areaMm2;
  return {
    areaMm2,
    middle: scale([midX, midY, midZ], areaMm2 > 0 ? 1 / areaMm2 : 0),
    outward: hasWay ? normalize(sum) : null,
    // What is closed looks all ways alike.
    isClosed: !hasWay && triangles.length > 0 && openEdges(triangles).length === 0,
  };
}
