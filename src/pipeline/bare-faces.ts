import { type Finding, finding } from '../check/finding.ts';
import { poleOf } from '../joint/pole.ts';
import { fromFrame } from '../math/plane.ts';
import { regionArea, windingAt } from '../math/polygon.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import type { Process } from '../model/job.ts';
import { COMMONEST_KIND } from '../model/joint.ts';
import { facesOf } from './faces-of.ts';
import { mayHold } from './settle-autos.ts';
import { type SeamHosts, type SeatedJoint, takenRims } from './settled.ts';
import { sharingDraw } from './sharing-draw.ts';

/** Tells of a seam with joints that makes several faces, some of them without one though it could be drawn with the others. */
export function bareFaces(
  hosts: SeamHosts,
  process: Process,
  originMm: Vec3,
  joints: readonly SeatedJoint[],
): Finding[] {
  const { seam } = hosts;
  const faces = facesOf(sharingDraw(hosts, joints));
  if (seam.joints.length === 0 || faces.length < 2) return [];
  const bare = faces.filter(
    ({ region, on }) => !takenRims(joints, on.facet).some((rim) => windingAt(region, rim[0], rim[1]) === 1),
  );
  if (bare.length === 0) return [];
  const fitting = bare.filter(({ region }) =>
    mayHold(region, { id: '', kind: COMMONEST_KIND, at: 'auto' }, process),
  );
  const [{ region, on }] = [...fitting, ...bare];
  const pole = poleOf(region);
  const at = pole && { at: add(fromFrame(on.frame, pole.at), originMm) };
  const fits = fitting.length > 0;
  const facts = { faces: faces.length, bare: bare.length, areaMm2: regionArea(region), fits };
  return [finding('face-without-peg', fits ? 'warning' : 'info', facts, { seamId: seam.id, ...at })];
}
