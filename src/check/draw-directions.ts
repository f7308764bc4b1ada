import { planeFrame } from '../math/plane.ts';
import { add, dot, scale, type Vec3 } from '../math/vec3.ts';
import type { SweptFaces } from '../seam/cut.ts';

/** A joint on such a face: how far from square to its face it still comes out, degrees. */
export interface DrawnJoint {
  jointId: string;
  facet: number;
  coneDeg: number;
}

/** The way the front comes off the back. */
export type SweptDraw =
  /**
   * `isSideways`: along the sweep alone, for the faces turn too far round to be lifted off. `clearsLine`: it lifts off every
   * run of the line; else what lies beside one that meets nothing may be in the way, and has to be looked for.
   */
  | { axis: Vec3; isSideways: boolean; clearsLine: boolean }
  /** There is none: these joints are held by these faces, or by each other where none is named. */
  | { lockedBy: { facets: number[]; jointIds: string[] } };

const DEG = 180 / Math.PI;
/** Straight pegs come out along their axis: so much of an angle is rounding, degrees. */
const SLACK_DEG = 1e-6;
/** Faces that lean no more than so much differently lean alike. */
const ALIKE_DEG = 0.1;

/**
 * The direction in which the front of a swept seam comes off its back. A face lets go of what moves away from it: a half
 * circle of directions about its normal, seen along the sweep. A joint comes out in a cone about its axis (Wilson and
 * Latombe, *Geometric reasoning about mechanical assembly*, Artificial Intelligence 71(2), 1994); whatever a direction has
 * along the sweep helps with none of them, so that it is enough to look square to it. With no joint the sweep itself
 * always does. Of all directions that do the middle one is answered, of those that lift off the whole line if there are any:
 * a line that turns back beside the figure leaves hooks that its faces know nothing of.
 */
export function sweptDraw({ along, faces, turnsDeg }: SweptFaces, joints: readonly DrawnJoint[]): SweptDraw {
  const turns = faces.map(({ turnDeg }) => turnDeg);
  const turnOf = (joint: DrawnJoint) => faces.find(({ facet }) => facet === joint.facet)?.turnDeg ?? turns[0];
  let low = Math.max(...turns) - 90;
  let high = Math.min(...turns) + 90;
  const lifted = (): SweptDraw => {
    const [least, most] = [Math.max(low, turnsDeg[1] - 90), Math.min(high, turnsDeg[0] + 90)];
    const clearsLine = least <= most + SLACK_DEG;
    // Between bodies that nothing joins there no face says anything.
    if (!clearsLine && faces.length === 0) return { axis: along, isSideways: true, clearsLine: true };
    const turn = clearsLine ? (least + most) / 2 : (low + high) / 2;
    return { axis: directionAt(along, turn), isSideways: false, clearsLine };
  };
  if (joints.length === 0)
    return low <= high + SLACK_DEG ? lifted() : { axis: along, isSideways: true, clearsLine: true };
  const [lowest, highest] = [
    Math.max(...joints.map((joint) => turnOf(joint) - joint.coneDeg)),
    Math.min(...joints.map((joint) => turnOf(joint) + joint.coneDeg)),
  ];
  const jointIds = joints.map(({ jointId }) => jointId);
  if (lowest > highest + SLACK_DEG) return { lockedBy: { facets: [], jointIds } };
  low = Math.max(low, lowest);
  high = Math.min(high, highest);
  if (low <= high + SLACK_DEG) return lifted();
  const holds = (turn: number) => turn - 90 > highest + SLACK_DEG || turn + 90 < lowest - SLACK_DEG;
  const facets = new Set(faces.flatMap(({ facet }, i) => (holds(turns[i]) ? [facet] : [])));
  return { lockedBy: { facets: [...facets], jointIds } };
}

function directionAt(along: Vec3, turnDeg: number): Vec3 {
  const { u, v } = planeFrame({ normal: along, offset: 0 });
  return add(scale(u, Math.cos(turnDeg / DEG)), scale(v, Math.sin(turnDeg / DEG)));
}

/** True where faces that are turned about the draw come to lie as they did: half round, if they lean alike to both sides. */
export function canTurn({ along, faces }: SweptFaces, axis: Vec3, turnDeg: number): boolean {
  const { u, v } = planeFrame({ normal: along, offset: 0 });
  const upright = Math.atan2(dot(axis, v), dot(axis, u)) * DEG;
  const leans = faces.map((face) => ((((face.turnDeg - upright) % 360) + 540) % 360) - 180);
  if (leans.every((lean) => Math.abs(lean) < ALIKE_DEG)) return true;
  const isHalfRound = Math.abs((((turnDeg % 360) + 360) % 360) - 180) < ALIKE_DEG;
  return isHalfRound && leans.every((lean) => leans.some((other) => Math.abs(lean + other) < ALIKE_DEG));
}
