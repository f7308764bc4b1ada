import { type Finding, finding } from '../check/finding.ts';
import { type Seating, seatingOf } from '../joint/host.ts';
import { type Joint, type JointSeat, makeJoint } from '../joint/joint.ts';
import { jointsMeet } from '../joint/joints-meet.ts';
import { isPrintable, leastWidth, type PegShape, pegShape, widthFor } from '../joint/size-peg.ts';
import { suggestPlaces } from '../joint/suggest-places.ts';
import { taperFault } from '../joint/taper.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { fromFrame, type PlaneFrame, toFrame } from '../math/plane.ts';
import { boxOfLoops, type Loop, windingAt } from '../math/polygon.ts';
import { add, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part.ts';
import type { Peg, Process, Seam } from '../model/job.ts';
import type { ResolvedPeg } from '../model/resolved-peg.ts';
import type { Face } from '../seam/face.ts';

/** A part that has some of a seam's face. */
export interface Host {
  partId: string;
  part: Part;
  face: Face;
}

/** A joint of another seam, and the part it is in. */
export interface PlacedJoint {
  partId: string;
  joint: Joint;
}

/** Both sides of a seam, ready for pegs. */
export interface SeamHosts {
  seam: Seam;
  frame: PlaneFrame;
  pegged: Host[];
  socketed: Host[];
}

/** A peg with its sizes, its two surfaces, and how they sit in their parts. */
export interface SettledPeg {
  index: number;
  peg: ResolvedPeg;
  pegHost: Host;
  socketHost: Host;
  pegJoint: Joint;
  socketJoint: Joint;
  pegSeating: Seating;
  socketSeating: Seating;
}

export interface SettledSeam {
  pegs: SettledPeg[];
  findings: Finding[];
}

/** Shares of the preferred width and length that an auto peg may shrink to before it is given up. */
const WIDTH_SHARES = [1, 0.85, 0.72, 0.6, 0.5, 0.42, 0.35, 0.28, 0.22, 0.17];
const LENGTH_SHARES = [1, 0.75, 0.5];

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
  hosts.seam.pegs.forEach((peg, index) => {
    if (peg.at === 'auto') return;
    const foot = toFrame(hosts.frame, sub(peg.at, originMm));
    const shape = pegShape(peg, process, placedWidth(peg, process, hosts, foot));
    const fault = taperFault(shape);
    if (fault) {
      findings.push(
        finding(
          'peg-shape-impossible',
          'error',
          { reason: fault },
          { seamId: hosts.seam.id, pegIndex: index, at: peg.at },
        ),
      );
    } else pegs.push(settle(index, foot, shape));
  });
  const rims = pegs.map(({ socketJoint }) => socketJoint.rim);
  let found = settleAutos(hosts, process, others, rims, settle);
  if (found.findings.length > 0 && others.length > 0) {
    // Where the face has most room another seam's peg may stand behind it.
    const shadows = others.map(({ joint }) => shadowOf(joint, hosts.frame));
    const beside = settleAutos(hosts, process, others, [...rims, ...shadows], settle);
    if (beside.pegs.length > found.pegs.length) found = beside;
  }
  return {
    pegs: [...pegs, ...found.pegs].sort((a, b) => a.index - b.index),
    findings: [...findings, ...found.findings],
  };
}

type Settle = (index: number, foot: Vec2, shape: PegShape) => SettledPeg;

/** Pegs without a place of their own, kept clear of the `taken` outlines. */
function settleAutos(
  { seam, socketed }: SeamHosts,
  process: Process,
  others: readonly PlacedJoint[],
  taken: readonly Loop[],
  settle: Settle,
): SettledSeam {
  const pegs: SettledPeg[] = [];
  const findings: Finding[] = [];
  const autos = seam.pegs.flatMap((peg, index) => (peg.at === 'auto' ? [{ peg, index }] : []));
  const loops = socketed.flatMap(({ face }) => face.loops);
  const places = autos.length > 0 ? suggestPlaces(loops, taken, autos.length) : [];
  autos.forEach(({ peg, index }, i) => {
    const fitted =
      places[i] &&
      fitPeg(peg, process, others, places[i].radius, (shape) => settle(index, places[i].at, shape));
    if (fitted) {
      pegs.push(fitted);
      return;
    }
    const facts = {
      bestWidthMm: places[i] ? widthFor(peg, process, places[i].radius) : 0,
      neededWidthMm: leastWidth(peg, process),
      minWallMm: process.minWallMm,
    };
    findings.push(finding('no-peg-fits', 'error', facts, { seamId: seam.id, pegIndex: index }));
  });
  return { pegs, findings };
}

/** The rectangle of the seam's frame that a joint stands over or under, counter-clockwise. */
function shadowOf({ surface: { positions } }: Joint, frame: PlaneFrame): Loop {
  const points = new Float64Array((positions.length / 3) * 2);
  for (let i = 0; i < positions.length; i += 3)
    points.set(toFrame(frame, [positions[i], positions[i + 1], positions[i + 2]]), (i / 3) * 2);
  const [x0, y0, x1, y1] = boxOfLoops([points]);
  return Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
}

/** Width for a peg the person placed without one: from the room around its foot, never less than can be made. */
function placedWidth(peg: Peg, process: Process, { socketed }: SeamHosts, foot: Vec2): number {
  const loops = socketed.flatMap(({ face }) => face.loops);
  const inside = windingAt(loops, foot[0], foot[1]) === 1;
  const room = inside ? nearestOnLoops(loops, foot[0], foot[1]).distance : 0;
  return Math.max(widthFor(peg, process, room), leastWidth(peg, process));
}

/** The largest peg that leaves the wall the process asks for, or null when none that can be printed does. */
function fitPeg(
  peg: Peg,
  process: Process,
  others: readonly PlacedJoint[],
  radius: number,
  settle: (shape: PegShape) => SettledPeg,
): SettledPeg | null {
  const widest = widthFor(peg, process, radius);
  for (const widthShare of WIDTH_SHARES) {
    for (const lengthShare of LENGTH_SHARES) {
      const shape = pegShape(peg, process, widest * widthShare, lengthShare);
      if (!isPrintable(shape, process)) continue;
      const settled = settle(shape);
      const { pegSeating, socketSeating } = settled;
      if (!pegSeating.local || !socketSeating.local) continue;
      if (socketSeating.wall.mm < process.minWallMm - 1e-6) continue;
      if (!meetsAny(settled, others, process.minWallMm)) return settled;
    }
  }
  return null;
}

/** True where a peg or its socket leaves less than a wall (mm) to a joint in the same part. */
const meetsAny = (settled: SettledPeg, others: readonly PlacedJoint[], wallMm: number): boolean =>
  others.some(
    ({ partId, joint }) =>
      (partId === settled.pegHost.partId && jointsMeet(settled.pegJoint, joint, wallMm)) ||
      (partId === settled.socketHost.partId && jointsMeet(settled.socketJoint, joint, wallMm)),
  );

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
