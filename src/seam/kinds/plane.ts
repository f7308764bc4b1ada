import { movePlane, type Plane, plane } from '../../math/plane.ts';
import { add, sub } from '../../math/vec3.ts';
import { rounded, type SeamSpec } from '../../model/seam-spec.ts';
import { type Bound, chosenGroups } from '../bounded/bound-trace.ts';
import { followOutlines } from '../bounded/follow-outlines.ts';
import { groupOutlines } from '../bounded/outline-groups.ts';
import { cutPart } from '../cut.ts';
import type { SculptPlace, SeamKind } from '../kind.ts';
import { planeOutline } from '../plane-outline.ts';

type PlaneSpec = SeamSpec & { kind: 'plane' };

/** The longest step while outlines are followed, mm, and as a share of the sculpt's longest side. */
const STEP_MM = 1;
const STEP_SHARE = 1 / 150;

/** A seam by a plane, through all outlines that it meets or some of them. */
export const planeKind: SeamKind<PlaneSpec> = {
  cut: (kernel, part, by, seamId, place) =>
    cutPart(kernel, part, recentred(by, place), seamId, place.middle, boundOf(by, place)),
  outline(part, by, place) {
    const { crossing, frame, rings, loops } = planeOutline(part, recentred(by, place), place.middle);
    const bound = boundOf(by, place);
    if (!bound) return { frame, loops, uncut: [] };
    const groups = groupOutlines(crossing, rings, loops);
    const chosen = new Set(
      [...chosenGroups(groups, frame, bound)].flatMap((group) => groups.groups[group].members),
    );
    return {
      frame,
      loops: loops.filter((_, k) => chosen.has(k)),
      uncut: loops.filter((_, k) => !chosen.has(k)),
    };
  },
  follow(part, from, by, place) {
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
};

/** The plane in recentred coordinates. */
const recentred = ({ normal, offsetMm }: PlaneSpec, { originMm }: SculptPlace): Plane =>
  movePlane(plane(normal, offsetMm), originMm);

const boundOf = ({ through }: PlaneSpec, { originMm }: SculptPlace): Bound | undefined =>
  through && { through, originMm };
