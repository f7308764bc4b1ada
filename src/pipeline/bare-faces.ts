import { type Finding, finding } from '../check/finding.ts';
import { poleOf } from '../joint/pole.ts';
import { fromFrame } from '../math/plane.ts';
import { regionArea, windingAt } from '../math/polygon.ts';
import { regionsOf } from '../math/regions.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import type { Process } from '../model/job.ts';
import { COMMONEST_KIND } from '../model/joint.ts';
import { mayHold } from './settle-autos.ts';
import { type SeamHosts, type SeatedJoint, takenRims } from './settled.ts';

/** Tells of a seam with joints that makes several faces, some of them without one. */
export function bareFaces(
  { seam, socketed, frame }: SeamHosts,
  process: Process,
  originMm: Vec3,
  joints: readonly SeatedJoint[],
): Finding[] {
  const regions = socketed.flatMap(({ face }) => regionsOf(face.loops));
  if (seam.joints.length === 0 || regions.length < 2) return [];
  const rims = takenRims(joints);
  const bare = regions.filter((region) => !rims.some((rim) => windingAt(region, rim[0], rim[1]) === 1));
  if (bare.length === 0) return [];
  const fitting = bare.filter((region) =>
    mayHold(region, { id: '', kind: COMMONEST_KIND, at: 'auto' }, process),
  );
  const [largest] = [...fitting, ...bare];
  const pole = poleOf(largest);
  const at = pole && { at: add(fromFrame(frame, pole.at), originMm) };
  const fits = fitting.length > 0;
  const facts = { faces: regions.length, bare: bare.length, areaMm2: regionArea(largest), fits };
  return [finding('face-without-peg', fits ? 'warning' : 'info', facts, { seamId: seam.id, ...at })];
}
