import { allOver, beyondPlane, drawBlockedAt } from '../check/draw.ts';
import { sweptDraw } from '../check/draw-directions.ts';
import { planeFrame } from '../math/plane.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { CutSeam } from './cut-step.ts';
import type { MadeJoint } from './joint-step.ts';
import { drawnJoints } from './sharing-draw.ts';

/** The way the front comes off the back, its joints along; and what keeps it from doing so. */
export interface SeamDraw {
  axis: Vec3;
  isSideways: boolean;
  locked?: { pegs: number[]; facets: number[] };
  /** Where the parts are in each other's way, recentred mm. `isHooked`: beside the seam's faces, where its line turns back. */
  blocked?: Blocked;
}

interface Blocked {
  at: Vec3;
  isHooked: boolean;
}

/** How the parts of a seam come apart with the joints they have. */
export function seamDraw(seam: CutSeam, joints: readonly MadeJoint[]): SeamDraw {
  const { draw, facets } = seam.cut;
  const { swept } = draw;
  const drawn = drawnJoints(joints);
  const found = swept ? sweptDraw(swept, drawn) : { axis: draw.axis, isSideways: false, clearsLine: true };
  if ('lockedBy' in found) {
    const { facets: locking, jointIds } = found.lockedBy;
    const pegs = joints.filter(({ settled }) => jointIds.includes(settled.id)).map(({ index }) => index);
    return { axis: facets[drawn[0].facet].frame.n, isSideways: false, locked: { pegs, facets: locking } };
  }
  const { axis, isSideways, clearsLine } = found;
  const blocked = blockedIn(seam, axis, clearsLine);
  if (!blocked) return { axis, isSideways };
  // With nothing that stands on its faces what hooks slides apart along the sweep.
  if (swept && blocked.isHooked && drawn.length === 0) return { axis: swept.along, isSideways: true };
  return { axis, isSideways, blocked };
}

/** Kept as long as the cut is. */
const known = new WeakMap<CutSeam['cut'], { axis: Vec3; found: Blocked | null }>();

/** Where a seam's parts are in each other's way along its draw; null where they come straight apart, as joints that stand along it do. */
function blockedIn(seam: CutSeam, axis: Vec3, clearsLine: boolean): Blocked | null {
  const { cut } = seam;
  if (cut.draw.isClear && clearsLine) return null;
  const last = known.get(cut);
  if (last?.axis.every((v, k) => v === axis[k])) return last.found;
  const found =
    (cut.draw.isClear ? null : blockedByWhole(seam, axis)) ?? (clearsLine ? null : hookedIn(seam, axis));
  known.set(cut, { axis, found });
  return found;
}

/** By what a seam left whole, or by what reaches beyond its plane. */
function blockedByWhole({ cut: { front, back, facets, draw } }: CutSeam, axis: Vec3): Blocked | null {
  const { astray, playMm } = draw;
  const frame = astray ? planeFrame({ normal: axis, offset: 0 }) : facets[0].frame;
  const at = drawBlockedAt(front, back, frame, astray ?? beyondPlane(front, back, frame, playMm));
  return at && { at, isHooked: false };
}

/** By what lies beside runs of a line that meet nothing. */
function hookedIn({ seam: { id }, cut: { front, back } }: CutSeam, axis: Vec3): Blocked | null {
  const at = drawBlockedAt(front, back, planeFrame({ normal: axis, offset: 0 }), allOver(front, back, id));
  return at && { at, isHooked: true };
}
