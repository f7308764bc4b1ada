import { type Finding, finding } from '../check/finding.ts';
import { seatingOf } from '../joint/host.ts';
import { jointKind } from '../joint/kinds.ts';
import { type JointSeat, makePiece, type Piece } from '../joint/piece.ts';
import { isSized, jointShape, leastWidth, widthFor } from '../joint/size-joint.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { fromFrame, type PlaneFrame, toFrame } from '../math/plane.ts';
import { boxOfLoops, type Loop, windingAt } from '../math/polygon.ts';
import { add, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import type { Process } from '../model/job.ts';
import type { AskedJoint, SettledJoint } from '../model/joint.ts';
import { bareFaces } from './bare-faces.ts';
import { type Settle, settleAutos } from './settle-autos.ts';
import {
  type Host,
  type SeamHosts,
  type SeatedJoint,
  type SeatedPiece,
  type SettledSeam,
  takenRims,
} from './settled.ts';

/**
 * Gives every joint of a seam a place and sizes, those the person placed first. Never one through the skin of its own
 * accord, nor into one of the `others`, which are there already. Joints of `before`, settled in the same parts, are kept
 * where they stand as they did.
 */
export function settleJoints(
  hosts: SeamHosts,
  process: Process,
  originMm: Vec3,
  others: readonly SeatedPiece[],
  before: readonly SeatedJoint[] = [],
): SettledSeam {
  const findings: Finding[] = [];
  const joints: SeatedJoint[] = [];
  const settle: Settle = (index, id, foot, shape) => {
    const settled: SettledJoint = { id, at: add(fromFrame(hosts.frame, foot), originMm), ...shape };
    const same = before.find((old) => old.index === index && isSameJoint(old.settled, settled));
    return same ?? seat(hosts, index, foot, settled);
  };
  const place = ({ asked, index, foot, at }: PlacedJoint, room: number) => {
    const width = Math.max(widthFor(asked, process, room), leastWidth(asked, process) ?? 0);
    const shape = jointShape(asked, process, width);
    const fault = jointKind(asked.kind).fault(shape);
    const where = { seamId: hosts.seam.id, jointId: asked.id, pegIndex: index, at };
    if (fault) findings.push(finding('peg-shape-impossible', 'error', fault, where));
    else joints.push(settle(index, asked.id, foot, shape));
  };
  const placed = hosts.seam.joints.flatMap((asked, index): PlacedJoint[] =>
    asked.at === 'auto'
      ? []
      : [{ asked, index, foot: toFrame(hosts.frame, sub(asked.at, originMm)), at: asked.at }],
  );
  // Those of given width first: the others take the room that is left.
  for (const one of placed.filter(({ asked }) => isSized(asked))) place(one, 0);
  const sizedRims = takenRims(joints);
  const unsized = placed.filter(({ asked }) => !isSized(asked));
  for (const one of unsized) {
    const feet = unsized.filter((other) => other !== one).map(({ foot }) => foot);
    place(one, roomAround(hosts, one.foot, sizedRims, feet));
  }
  const rims = takenRims(joints);
  let found = settleAutos(hosts, process, others, rims, rims, settle);
  if (found.findings.length > 0 && others.length > 0) {
    // Where the face has most room another seam's joint may stand behind it.
    const shadows = others.map(({ piece }) => shadowOf(piece, hosts.frame));
    const beside = settleAutos(hosts, process, others, rims, [...rims, ...shadows], settle);
    if (beside.joints.length > found.joints.length) found = beside;
  }
  const all = [...joints, ...found.joints].sort((a, b) => a.index - b.index);
  return {
    joints: all,
    findings: [...findings, ...found.findings, ...bareFaces(hosts, process, originMm, all)],
  };
}

/** The rectangle of the seam's frame that a piece stands over or under, counter-clockwise. */
function shadowOf({ surface: { positions } }: Piece, frame: PlaneFrame): Loop {
  const points = new Float64Array((positions.length / 3) * 2);
  for (let i = 0; i < positions.length; i += 3)
    points.set(toFrame(frame, [positions[i], positions[i + 1], positions[i + 2]]), (i / 3) * 2);
  const [x0, y0, x1, y1] = boxOfLoops([points]);
  return Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
}

/** A joint of the job that a person placed, and its foot in the seam's frame. */
interface PlacedJoint {
  asked: AskedJoint;
  index: number;
  foot: Vec2;
  at: Vec3;
}

/**
 * Radius of the free circle around a foot, mm: up to the face's outline, what joints with a width take, and halfway
 * to the feet of others without. 0 off the face.
 */
function roomAround(
  { socketed }: SeamHosts,
  [x, y]: Vec2,
  rims: readonly Loop[],
  others: readonly Vec2[],
): number {
  const loops = socketed.flatMap(({ face }) => face.loops);
  if (windingAt(loops, x, y) !== 1 || windingAt(rims, x, y) !== 0) return 0;
  return Math.min(
    nearestOnLoops([...loops, ...rims], x, y).distance,
    ...others.map(([ox, oy]) => Math.hypot(ox - x, oy - y) / 2),
  );
}

/** Equal to the bit, place and all. */
const isSameJoint = (a: SettledJoint, b: SettledJoint): boolean => JSON.stringify(a) === JSON.stringify(b);

function seat(hosts: SeamHosts, index: number, footUv: Vec2, settled: SettledJoint): SeatedJoint {
  const seatOf: JointSeat = {
    seamId: hosts.seam.id,
    jointId: settled.id,
    pegOn: hosts.seam.pegOn,
    frame: hosts.frame,
    foot: fromFrame(hosts.frame, footUv),
    spinDeg: settled.spinDeg ?? 0,
  };
  const pieces = jointKind(settled.kind)
    .pieces(settled)
    .map((spec): SeatedPiece => {
      const piece = makePiece(seatOf, spec);
      const host = hostAt(hosts[spec.in], footUv);
      return { piece, host, seating: seatingOf(host.part, host.face, piece) };
    });
  return { index, settled, pieces };
}

/** The part whose face holds the point, else the one whose face is nearest. */
function hostAt(hosts: readonly Host[], [x, y]: Vec2): Host {
  const holding = hosts.find(({ face }) => windingAt(face.loops, x, y) === 1);
  if (holding) return holding;
  const distance = ({ face }: Host) => nearestOnLoops(face.loops, x, y).distance;
  return hosts.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}
