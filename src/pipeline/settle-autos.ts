import { finding } from '../check/finding.ts';
import { poleOf } from '../joint/pole.ts';
import { leastWidth, widthFor } from '../joint/size-joint.ts';
import { suggestPlaces } from '../joint/suggest-places.ts';
import { type Loop, regionArea, windingAt } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Process } from '../model/job.ts';
import { type AskedJoint, freeJointId, type JointShape } from '../model/joint.ts';
import { facesOf, type SeamFace } from './faces-of.ts';
import { fitJoint, isMisfit } from './fit-joint.ts';
import type { FacetHosts, SeamHosts, SeatedJoint, SeatedPiece, SettledSeam } from './settled.ts';

/** Seats a joint of a seam, by its index and id, at a foot in a facet's frame. */
export type Settle = (
  on: FacetHosts,
  index: number,
  id: string,
  foot: Vec2,
  shape: JointShape,
) => SeatedJoint;

/** Outlines on a facet, in its frame. */
export type OnFacet = (on: FacetHosts) => readonly Loop[];

interface AutoJoint {
  asked: AskedJoint;
  index: number;
}

/** A face of a seam and how many joints it is to have. */
interface Share extends SeamFace {
  /** Of pegs that a person placed there. */
  placed: number;
  autos: AutoJoint[];
}

/**
 * Joints without a place of their own, on some facets of their seam, kept clear of the `taken` outlines. `rims` are those of the joints a person placed.
 * Every face on which one may fit gets one before any gets a second; where fewer are asked for than there are such
 * faces, the last one asked for is repeated, numbered and named on after the seam's own.
 */
export function settleAutos(
  { seam }: SeamHosts,
  facets: readonly FacetHosts[],
  process: Process,
  others: readonly SeatedPiece[],
  rims: OnFacet,
  taken: OnFacet,
  settle: Settle,
): SettledSeam {
  const autos = seam.joints.flatMap((asked, index) => (asked.at === 'auto' ? [{ asked, index }] : []));
  const done: SettledSeam = { joints: [], findings: [] };
  if (autos.length === 0) return done;
  const faces = facesOf(facets).sort((a, b) => regionArea(b.region) - regionArea(a.region));
  for (const { on, region, autos: here } of shareOut(faces, autos, rims, process, seam.joints)) {
    const places = suggestPlaces(region, taken(on), here.length);
    here.forEach(({ asked, index }, i) => {
      const place = places.at(i);
      const fitted = fitJoint(asked, process, others, place?.radius ?? 0, (shape) =>
        settle(on, index, asked.id, place?.at ?? [0, 0], shape),
      );
      const where = { seamId: seam.id, jointId: asked.id, pegIndex: index };
      if (!isMisfit(fitted)) done.joints.push(fitted);
      // One that nobody asked for is told of as a face without a peg.
      else if (index < seam.joints.length) done.findings.push(finding('no-peg-fits', 'error', fitted, where));
    });
  }
  return done;
}

/** Which autos each region gets; the further ones of a seam go where one has most area to itself. */
function shareOut(
  faces: readonly SeamFace[],
  autos: readonly AutoJoint[],
  rims: OnFacet,
  process: Process,
  own: readonly AskedJoint[],
): Share[] {
  const shares = faces.map(({ on, region }): Share => {
    const placed = rims(on).filter((rim) => windingAt(region, rim[0], rim[1]) === 1).length;
    return { on, region, placed, autos: [] };
  });
  const last = autos[autos.length - 1];
  const roomy =
    faces.length > 1 ? shares.filter(({ region }) => mayHold(region, last.asked, process)) : shares;
  const waiting = [...autos];
  const ids = own.map(({ id }) => id);
  const further = (): AutoJoint => {
    ids.push(freeJointId(ids));
    return { asked: { ...last.asked, id: ids[ids.length - 1] }, index: ids.length - 1 };
  };
  for (const share of roomy.filter(({ placed }) => placed === 0))
    share.autos.push(waiting.shift() ?? further());
  const open = roomy.length > 0 ? roomy : shares;
  for (const auto of waiting) {
    const areaEach = ({ region, placed, autos: here }: Share) =>
      regionArea(region) / (placed + here.length + 1);
    open.reduce((a, b) => (areaEach(b) > areaEach(a) ? b : a)).autos.push(auto);
  }
  return shares.filter(({ autos: here }) => here.length > 0);
}

/** True where a region is wide enough for a joint that can be printed, whatever lies behind it. */
export function mayHold(region: readonly Loop[], asked: AskedJoint, process: Process): boolean {
  const needed = leastWidth(asked, process);
  return needed !== null && widthFor(asked, process, poleOf(region)?.radius ?? 0) >= needed;
}
