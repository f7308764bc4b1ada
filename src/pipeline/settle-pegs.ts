import { type Finding, finding, type ShapeMisfit } from '../check/finding.ts';
import { seatingOf } from '../joint/host.ts';
import { type Joint, type JointSeat, makeJoint } from '../joint/joint.ts';
import { leastWidth, type PegShape, pegShape, widthFor } from '../joint/size-peg.ts';
import { type TaperFault, taperBounds, taperFault } from '../joint/taper.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { fromFrame, type PlaneFrame, toFrame } from '../math/plane.ts';
import { boxOfLoops, type Loop, windingAt } from '../math/polygon.ts';
import { add, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import type { Peg, Process } from '../model/job.ts';
import type { ResolvedPeg } from '../model/resolved-peg.ts';
import { bareFaces } from './bare-faces.ts';
import { type Settle, settleAutos } from './settle-autos.ts';
import type { Host, PlacedJoint, SeamHosts, SettledPeg, SettledSeam } from './settled.ts';

/**
 * Gives every peg of a seam a place and sizes, those the person placed first. Never a peg through the skin of its own
 * accord, nor into one of the `others`, which are there already. Pegs of `before`, settled in the same parts, are kept
 * where they stand as they did.
 */
export function settlePegs(
  hosts: SeamHosts,
  process: Process,
  originMm: Vec3,
  others: readonly PlacedJoint[],
  before: readonly SettledPeg[] = [],
): SettledSeam {
  const findings: Finding[] = [];
  const pegs: SettledPeg[] = [];
  const settle: Settle = (index, foot, shape) => {
    const peg: ResolvedPeg = { kind: 'taper', at: add(fromFrame(hosts.frame, foot), originMm), ...shape };
    const same = before.find((old) => old.index === index && isSamePeg(old.peg, peg));
    return same ?? seatPeg(hosts, index, foot, peg);
  };
  const place = ({ peg, index, foot, at }: PlacedPeg, room: number) => {
    const shape = pegShape(
      peg,
      process,
      Math.max(widthFor(peg, process, room), leastWidth(peg, process) ?? 0),
    );
    const reason = taperFault(shape);
    const where = { seamId: hosts.seam.id, pegIndex: index, at };
    if (reason) findings.push(finding('peg-shape-impossible', 'error', shapeMisfit(shape, reason), where));
    else pegs.push(settle(index, foot, shape));
  };
  const placed = hosts.seam.pegs.flatMap((peg, index): PlacedPeg[] =>
    peg.at === 'auto' ? [] : [{ peg, index, foot: toFrame(hosts.frame, sub(peg.at, originMm)), at: peg.at }],
  );
  const isSized = ({ peg }: PlacedPeg) => peg.widthMm !== undefined;
  // Those of given width first: the others take the room that is left.
  for (const one of placed.filter(isSized)) place(one, 0);
  const sizedRims = pegs.map(({ socketJoint }) => socketJoint.rim);
  const unsized = placed.filter((one) => !isSized(one));
  for (const one of unsized) {
    const others = unsized.filter((other) => other !== one).map(({ foot }) => foot);
    place(one, roomAround(hosts, one.foot, sizedRims, others));
  }
  const rims = pegs.map(({ socketJoint }) => socketJoint.rim);
  let found = settleAutos(hosts, process, others, rims, rims, settle);
  if (found.findings.length > 0 && others.length > 0) {
    // Where the face has most room another seam's peg may stand behind it.
    const shadows = others.map(({ joint }) => shadowOf(joint, hosts.frame));
    const beside = settleAutos(hosts, process, others, rims, [...rims, ...shadows], settle);
    if (beside.pegs.length > found.pegs.length) found = beside;
  }
  const all = [...pegs, ...found.pegs].sort((a, b) => a.index - b.index);
  return {
    pegs: all,
    findings: [...findings, ...found.findings, ...bareFaces(hosts, process, originMm, all)],
  };
}

function shapeMisfit(shape: PegShape, reason: TaperFault): ShapeMisfit {
  const { widthMm, heightMm, lengthMm, edgeRadiusMm, draftDeg } = shape;
  const sizes = { widthMm: Math.min(widthMm, heightMm), lengthMm, edgeRadiusMm, draftDeg };
  return { reason, ...sizes, would: taperBounds(shape, reason) };
}

/** The rectangle of the seam's frame that a joint stands over or under, counter-clockwise. */
function shadowOf({ surface: { positions } }: Joint, frame: PlaneFrame): Loop {
  const points = new Float64Array((positions.length / 3) * 2);
  for (let i = 0; i < positions.length; i += 3)
    points.set(toFrame(frame, [positions[i], positions[i + 1], positions[i + 2]]), (i / 3) * 2);
  const [x0, y0, x1, y1] = boxOfLoops([points]);
  return Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
}

/** A peg of the job that a person placed, and its foot in the seam's frame. */
interface PlacedPeg {
  peg: Peg;
  index: number;
  foot: Vec2;
  at: Vec3;
}

/**
 * Radius of the free circle around a foot, mm: up to the face's outline, the sockets of pegs with a width, and halfway
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
const isSamePeg = (a: ResolvedPeg, b: ResolvedPeg): boolean => JSON.stringify(a) === JSON.stringify(b);

function seatPeg(hosts: SeamHosts, index: number, footUv: Vec2, peg: ResolvedPeg): SettledPeg {
  const foot = fromFrame(hosts.frame, footUv);
  const seat: JointSeat = {
    seamId: hosts.seam.id,
    pegIndex: index,
    pegOn: hosts.seam.pegOn,
    seamFrame: hosts.frame,
    foot,
  };
  const pegJoint = makeJoint(seat, peg, 'peg');
  const socketJoint = makeJoint(seat, peg, 'socket');
  const pegHost = hostAt(hosts.pegged, footUv);
  const socketHost = hostAt(hosts.socketed, footUv);
  return {
    index,
    peg,
    pegHost,
    socketHost,
    pegJoint,
    socketJoint,
    pegSeating: seatingOf(pegHost.part, pegHost.face, pegJoint),
    socketSeating: seatingOf(socketHost.part, socketHost.face, socketJoint),
  };
}

/** The part whose face holds the point, else the one whose face is nearest. */
function hostAt(hosts: readonly Host[], [x, y]: Vec2): Host {
  const holding = hosts.find(({ face }) => windingAt(face.loops, x, y) === 1);
  if (holding) return holding;
  const distance = ({ face }: Host) => nearestOnLoops(face.loops, x, y).distance;
  return hosts.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}
