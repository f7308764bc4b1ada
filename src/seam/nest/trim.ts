import { PegwrightError } from '../../errors.ts';
import type { Kernel } from '../../kernel/load.ts';
import { kernelTrim } from '../../kernel/solid.ts';
import type { Plane } from '../../math/plane.ts';
import { add, type Vec3 } from '../../math/vec3.ts';
import type { Bounds } from '../../mesh/measure.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { meshOf, type Part, type Patch, type PatchOf } from '../../mesh/part/part.ts';
import { allPositions, NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { closedBehind, workBehind } from '../collar.ts';
import { crossingAt } from './crossing-at.ts';
import { joinClose } from './join-close.ts';
import { lessNear } from './less-near.ts';
import { mitresOf } from './mitres.ts';
import { openGap } from './open-gap.ts';
import { sidesReached } from './overlap-box.ts';

/** How a part gives way to another. */
export interface Trim {
  seamId: string;
  /** All that both have in common lies in it, with a margin wider than the gap. Recentred mm. */
  box: Bounds;
  /** Only what of the other lies in front of it is taken off; null: all of it. */
  from: Plane | null;
  gapMm: number;
  rimMm: number;
  /** What was taken from the file's coordinates, mm. */
  originMm: Vec3;
}

/** True for surface that follows the other body of a seam. */
export const isTrimmedBy = ({ of }: { of: PatchOf }, seamId: string): boolean =>
  of.kind === 'skin' && of.trimmedBy === seamId;

/** True for what a seam that trims gives a part: surface that follows the other body, and flats. */
export const isMadeBy = (patch: Patch, seamId: string): boolean =>
  isTrimmedBy(patch, seamId) || (patch.of.kind === 'face' && patch.of.seamId === seamId);

/** Surface of another body of which none may be left in a result: what closes its collar, or reaches into the part. */
export const FOREIGN: PatchOf = { kind: 'lid', number: -1 };

/**
 * A part less another, by the kernel's boolean on what both have in their common box: the rest of each is taken off and
 * closed with cones, which enclose nothing in the box. Inside, either collar winds round every point as its whole part
 * does, so the boolean does the same as on the whole parts; where the cones of one run into the other, its edge comes out
 * otherwise or some cone is left, and the whole parts are taken instead. Triangles outside keep their corners to the bit.
 * @throws PegwrightError `nest-gap-crosses`, or the kernel's refusals.
 */
export function trimmed(kernel: Kernel, part: Part, by: Part, trim: Trim): Part {
  const leastMm = 2 * snapDistance(part);
  const collared = workBehind(
    part,
    sidesReached(part, trim.box),
    (piece) => trimPiece(kernel, piece, collarOf(by, trim.box), trim, leastMm),
    // Cuts are made before joints: nothing has opened it yet, and the kernel takes no other.
    true,
  );
  const whole = collared ?? trimPiece(kernel, part, by, trim, leastMm);
  if (!whole) return part;
  // What is kept by triangles is of their vertices too, and those are others from one gap to the next.
  const patches = whole.patches
    .filter(({ triangles }) => triangles.length > 0)
    .map(({ of, triangles }): Patch => ({ of, triangles: triangles.slice() }));
  return { positions: allPositions(whole), added: NOTHING_ADDED, patches };
}

/** Null where a cone of what was taken off is left. */
function trimPiece(kernel: Kernel, piece: Part, by: Part, trim: Trim, leastMm: number): Part | null {
  const { seamId, from, gapMm, rimMm } = trim;
  const surface: PatchOf = { kind: 'skin', trimmedBy: seamId };
  const own = by.patches.map(
    ({ of, triangles }): Patch => ({ of: of.kind === 'lid' ? FOREIGN : surface, triangles }),
  );
  const isOpenRim = gapMm > 0 && rimMm === 0;
  const given = { ...by, patches: own };
  const taken = isOpenRim ? grown(given, trim) : given;
  const subtract = (one: Part, other: Part) => kernelTrim(kernel, one, other, seamId, from);
  // The face of a flat lies elsewhere than any skin.
  const left = (from === null ? lessNear(piece, taken, subtract) : null) ?? subtract(piece, taken);
  if (left.patches.some(({ of, triangles }) => of === FOREIGN && triangles.length > 0)) return null;
  const clean = joinClose(left, (patch) => isMadeBy(patch, seamId), leastMm);
  if (gapMm === 0 || isOpenRim) return clean;
  const { part, moved } = openGap(clean, (patch) => isTrimmedBy(patch, seamId), gapMm, rimMm);
  mustNotCross(part, moved, trim);
  return part;
}

/** What of a part lies in a box, closed outside of it. */
export const collarOf = (part: Part, box: Bounds): Part =>
  sidesReached(part, box).reduce((piece, side) => closedBehind(piece, side, true)?.part ?? piece, part);

/** The part with its surface farther out by the gap, but where a cone closes it. */
function grown(part: Part, trim: Trim): Part {
  const positions = Float32Array.from(allPositions(part));
  const own = joinIndices(part.patches.filter(({ of }) => of !== FOREIGN).map(({ triangles }) => triangles));
  const mitres = mitresOf(positions, own);
  for (let i = 0; i < positions.length; i++) positions[i] += trim.gapMm * mitres[i];
  const patches = part.patches.map(({ of, triangles }): Patch => ({ of, triangles: triangles.slice() }));
  const farther = { positions, added: NOTHING_ADDED, patches };
  mustNotCross(farther, inBox(farther, own, trim.box), trim);
  return farther;
}

/** Triangles of a part with a corner in a box. */
function inBox({ positions: p }: Part, triangles: Uint32Array, { min, max }: Bounds): Uint32Array {
  const isIn = (v: number) => [0, 1, 2].every((k) => p[v * 3 + k] >= min[k] && p[v * 3 + k] <= max[k]);
  const inside: number[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = triangles.subarray(i, i + 3);
    if (corners.some(isIn)) inside.push(...corners);
  }
  return Uint32Array.from(inside);
}

/** Surface that was moved farther than its folds are wide runs through itself, or out of its own part's skin. */
function mustNotCross(part: Part, moved: Uint32Array, { seamId, gapMm, rimMm, originMm }: Trim): void {
  const at = crossingAt(
    meshOf(part, ({ kind }) => kind !== 'lid'),
    moved,
  );
  if (at) throw new PegwrightError('nest-gap-crosses', { seamId, gapMm, rimMm, at: add(at, originMm) });
}
