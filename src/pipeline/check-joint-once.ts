import type { Finding } from '../check/finding.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Job } from '../model/job.ts';
import { checkJoint } from './check-joint.ts';
import type { JointResult } from './evaluation.ts';
import type { JointedTree, MadeJoint } from './joint-step.ts';
import type { SeatedPiece } from './settled.ts';

/** Joints measured last, by their pieces: the same again while neither they nor the parts they are in have changed. */
const measuredLast = new WeakMap<
  readonly SeatedPiece[],
  { of: readonly unknown[]; result: JointResult; findings: readonly Finding[] }
>();

/** Measures a joint as `checkJoint` does, unless it was measured so before. */
export function checkJointOnce(
  joint: MadeJoint,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): JointResult {
  const hosts = new Set(joint.pieces.map(({ host }) => host.partId));
  const of = [
    joint.way,
    joint.meets,
    joint.index,
    job.process.minWallMm,
    // Others are named by their places among those of their seam.
    tree.seams.map(({ cut, joints }) => `${cut.seam.id} ${joints.map(({ settled }) => settled.id)}`).join(),
    // Of other seams it meets what bounds these parts.
    ...tree.parts.filter(({ plain }) => hosts.has(plain.id)).flatMap(({ plain, part }) => [plain.part, part]),
  ];
  const known = measuredLast.get(joint.pieces);
  if (known && known.of.length === of.length && known.of.every((one, i) => one === of[i])) {
    findings.push(...known.findings);
    return known.result;
  }
  const found: Finding[] = [];
  const result = checkJoint(joint, tree, originMm, job, found);
  measuredLast.set(joint.pieces, { of, result, findings: found });
  findings.push(...found);
  return result;
}
