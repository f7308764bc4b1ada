/** The engine's only door. */

export type { BedFit } from './check/bed.ts';
export type { Finding, FindingCode, FindingOf, Severity } from './check/finding.ts';
export { stillStanding } from './check/still-standing.ts';
export { DEMO_FILE, DEMO_JOB as demoJob } from './demo/demo-job.ts';
export type { ErrorRecord } from './errors.ts';
export { toErrorRecord } from './errors.ts';
export { readSvgOutline } from './io/svg/read-svg-outline.ts';
export { halfExtents, heightsOf, outlinesOnFace, type PieceOutline } from './joint/face-outlines.ts';
export type { HostSide, Pole } from './joint/kind.ts';
export { jointKind, jointKinds } from './joint/kinds.ts';
export { lexiconFor } from './lexicon/lexicon.ts';
export type { Names } from './lexicon/names.ts';
export { type Notice, notice, type Said } from './lexicon/notice.ts';
export type { ToldPeg } from './lexicon/told-peg.ts';
export { mirroredPlace, mirroredVec } from './math/mirror.ts';
export { nearestOnLoops } from './math/nearest-on-loops.ts';
export { fromFrame, type Plane, type PlaneFrame, plane, planeFrame, toFrame } from './math/plane.ts';
export { type Loop, loopArea, windingAt } from './math/polygon.ts';
export {
  compose,
  NO_TURN,
  type Quaternion,
  turnAbout,
  turnBetween,
  turnedVec,
} from './math/quaternion.ts';
export { add, cross, dot, length, normalize, scale, sub, type Vec2, type Vec3 } from './math/vec3.ts';
export type { Defect, DefectKind, Health } from './mend/report/health.ts';
export type { Repair, RepairCode } from './mend/report/repair.ts';
export type { DisplayMesh } from './mesh/display.ts';
export type { Mesh } from './mesh/mesh.ts';
export { contactSeam, joinedBy, nestingOf, withNesting } from './model/contact-seam.ts';
export type { Job, Process, Seam, Turn } from './model/job.ts';
export {
  type AskedJoint,
  COMMONEST_KIND,
  draftOfTaper,
  freeJointId,
  type JointField,
  type JointShape,
  liesAlongFace,
  outlineIn,
  type SettledJoint,
  type SizeName,
  type Sizes,
  withOutline,
} from './model/joint.ts';
export { LIMITS } from './model/limits.ts';
export type { Mend } from './model/mend.ts';
export { mirroredSeam } from './model/mirrored-seam.ts';
export { type Outline, outlineFault, pathOfOutline, tidy } from './model/outline.ts';
export { partLookup } from './model/part-lookup.ts';
export {
  bareName,
  bodyName,
  type PartRef,
  partId,
  partRef,
  SCULPT,
  type Side,
} from './model/part-ref.ts';
export {
  type PartNode,
  type PartTree,
  partsOf,
  partTree,
  type SeamNode,
  undivided,
} from './model/part-tree.ts';
export { proposeUnit } from './model/propose-unit.ts';
export type { SeamSpec } from './model/seam-schema.ts';
export {
  facingOf,
  followsHand,
  heldPlane,
  isSameSeam,
  movedSeam,
  ontoPlane,
  planeOf,
  planeSeam,
  rounded,
  roundTo,
  type SeamPlane,
  throughOf,
  withPlane,
  withThrough,
} from './model/seam-spec.ts';
export { setJoints } from './model/set-joints.ts';
export { type SweptLine, sweptLine, withLine } from './model/swept-seam.ts';
export { MM_PER_UNIT, UNITS, type Unit } from './model/units.ts';
export type { Focus } from './pipeline/draw-section.ts';
export type {
  FaceResult,
  FitProfiles,
  JointResult,
  JointSection,
  NestResult,
  PartResult,
  SeamResult,
  TouchResult,
  VolumeBalance,
  Way,
} from './pipeline/evaluation.ts';
export type { JointMend } from './pipeline/joint-mends.ts';
export type { SeamImage } from './pipeline/mirror-seam.ts';
export type { OneWayMend } from './pipeline/one-way-mends.ts';
export { readJob } from './pipeline/read-job.ts';
export type { OrderStep, Reordering } from './pipeline/reorder-seams.ts';
export type { SuggestedJoints } from './pipeline/suggest-joints.ts';
export type { SculptSymmetry } from './pipeline/symmetry.ts';
export { type ToGet, toGet, toGetFor } from './pipeline/to-get.ts';
export type { TouchingBodies } from './pipeline/touching-bodies.ts';
export { PROCESSES, type ProcessCard } from './process/cards.ts';
export type { OnProgress, Proving, Step } from './progress.ts';
export type { LimbClick, LimbFit } from './seam/kind.ts';
export type { WallContour } from './seam/wall-contours.ts';
export type { Spread } from './section/gap.ts';
export { createLatest } from './worker/latest.ts';
export type {
  BodySummary,
  EvaluationView,
  Glimpse,
  LiveFace,
  LiveSeam,
  PartView,
  SculptFile,
  SculptSummary,
  SkinEstimate,
  Trial,
} from './worker/protocol.ts';
