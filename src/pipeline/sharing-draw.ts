import { type DrawnJoint, sweptDraw } from '../check/draw-directions.ts';
import { jointKind } from '../joint/kinds.ts';
import { regionArea } from '../math/polygon.ts';
import { type FacetHosts, goesIn, type SeamHosts, type SeatedJoint } from './settled.ts';

/** The joints of a seam that its draw has to clear: not those that stand in one part alone. */
export const drawnJoints = (joints: readonly SeatedJoint[]): DrawnJoint[] =>
  joints.filter(goesIn).map(({ facet, settled }) => ({
    jointId: settled.id,
    facet,
    coneDeg: jointKind(settled.kind).coneDeg(settled),
  }));

/**
 * The facets of a seam on which joints may stand together: all of them, unless they are swept. Then those that can be drawn
 * in one direction with the joints that stand there, or, where none does, the largest set that can. Where no joint can be
 * drawn at all, the facets that have joints already, or the largest one.
 */
export function sharingDraw({ facets: all, swept }: SeamHosts, joints: readonly SeatedJoint[]): FacetHosts[] {
  const facets = all.filter(({ isBent }) => !isBent);
  if (!swept) return facets;
  const drawn = drawnJoints(joints);
  const withAll = (some: readonly DrawnJoint[]) =>
    facets.filter(({ facet }) => 'axis' in sweptDraw(swept, [...some, upright(facet)]));
  if (drawn.length > 0) {
    const together = withAll(drawn);
    return together.length > 0
      ? together
      : facets.filter(({ facet }) => drawn.some((joint) => joint.facet === facet));
  }
  const area = (some: readonly FacetHosts[]) =>
    some.reduce((sum, { socketed }) => sum + socketed.reduce((s, { room }) => s + regionArea(room), 0), 0);
  const largest = (sets: readonly FacetHosts[][]) => sets.reduce((a, b) => (area(b) > area(a) ? b : a), []);
  const sets = facets.map(({ facet }) => withAll([upright(facet)]));
  const found = largest(sets);
  return found.length > 0 ? found : largest(facets.map((one) => [one]));
}

/** A joint that comes out square to its face alone. */
const upright = (facet: number): DrawnJoint => ({ jointId: '', facet, coneDeg: 0 });
