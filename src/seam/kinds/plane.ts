import { fromFrame, movePlane, type Plane, plane } from '../../math/plane.ts';
import { pointInside } from '../../math/point-inside.ts';
import type { Loop } from '../../math/polygon.ts';
import { regionsOf } from '../../math/regions.ts';
import { add, dot, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import type { PlaneSpec } from '../../model/seam-schema.ts';
import { rounded, withThrough } from '../../model/seam-spec.ts';
import { type Bound, chosenGroups } from '../bounded/bound-trace.ts';
import { followOutlines } from '../bounded/follow-outlines.ts';
import { groupOutlines } from '../bounded/outline-groups.ts';
import { cutPart } from '../cut.ts';
import type { LimbFit, SculptPlace, SeamKind } from '../kind.ts';
import type { FittedSection } from '../limb/fitted.ts';
import { narrowest, narrowestAt } from '../limb/narrowest.ts';
import { squareTo } from '../limb/square.ts';
import { planeOutline } from '../plane-outline.ts';

/** The longest step while outlines are followed, mm, and as a share of the sculpt's longest side. */
const STEP_MM = 1;
const STEP_SHARE = 1 / 150;

/** A seam by a plane, through all outlines that it meets or some of them. */
export const planeKind: SeamKind<PlaneSpec> = {
  cut: (kernel, [part], by, seamId, place) =>
    cutPart(kernel, part, recentred(by, place), seamId, place.middle, boundOf(by, place)),
  outline(_, [part], by, place) {
    const { crossing, frame, rings, loops } = planeOutline(part, recentred(by, place), place.middle);
    const bound = boundOf(by, place);
    if (!bound) return [{ frame, loops, uncut: [] }];
    const groups = groupOutlines(crossing, rings, loops);
    const chosen = new Set(
      [...chosenGroups(groups, frame, bound)].flatMap((group) => groups.groups[group].members),
    );
    const isCut = (_: Loop, k: number) => chosen.has(k);
    return [{ frame, loops: loops.filter(isCut), uncut: loops.filter((loop, k) => !isCut(loop, k)) }];
  },
  follow([part], from, by, place) {
    if (!from.through) return by;
    const points = followOutlines(
      part,
      recentred(from, place),
      recentred(by, place),
      from.through.map((point) => sub(point, place.originMm)),
      Math.min(STEP_MM, STEP_SHARE * place.longestMm),
    );
    const through = points.flatMap((point) => (point ? [rounded(add(point, place.originMm))] : []));
    // Of several limbs none is let go in silence.
    return through.length === points.length ? { ...by, through } : null;
  },
  narrowest([part], by, click, place) {
    const { originMm } = place;
    if (click) return fitted(narrowestAt(part, sub(click.at, originMm), click.inward), by, place);
    const inside = limbOf(part, by, place);
    return inside && fitted(narrowest(part, recentred(by, place), inside), by, place);
  },
  squared([part], by, place) {
    const inside = limbOf(part, by, place);
    return inside && fitted(squareTo(part, recentred(by, place), inside), by, place);
  },
};

/** A seam laid through the section that was found for it. */
function fitted(found: FittedSection | null, by: PlaneSpec, { originMm }: SculptPlace): LimbFit | null {
  if (found === null) return null;
  const { before, after } = found;
  // It keeps looking the way it did.
  const isTurned = dot(after.plane.normal, by.normal) < 0;
  const normal = isTurned ? scale(after.plane.normal, -1) : after.plane.normal;
  const middle = add(after.centroid, originMm);
  const bound = after.limbs > 1 ? [rounded(middle)] : null;
  const laid = withThrough({ ...by, normal, offsetMm: dot(normal, middle) }, bound);
  return { by: laid, beforeMm2: before.areaMm2, afterMm2: after.areaMm2 };
}

/** A point of the limb that a seam cuts: the one that is meant, else the largest. Null where it cuts none. */
function limbOf(part: Part, by: PlaneSpec, place: SculptPlace): Vec3 | null {
  if (by.through) return sub(by.through[0], place.originMm);
  const { frame, loops } = planeOutline(part, recentred(by, place), place.middle);
  const [largest] = regionsOf(loops);
  return largest ? fromFrame(frame, pointInside(largest[0])) : null;
}

/** The plane in recentred coordinates. */
const recentred = ({ normal, offsetMm }: PlaneSpec, { originMm }: SculptPlace): Plane =>
  movePlane(plane(normal, offsetMm), originMm);

const boundOf = ({ through }: PlaneSpec, { originMm }: SculptPlace): Bound | undefined =>
  through && { through, originMm };
