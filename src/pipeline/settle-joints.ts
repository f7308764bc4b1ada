import { type Finding, finding } from '../check/finding.ts';
import { type Seating, seatingOf } from '../joint/host.ts';
import { type HostedSpec, type LooseSpec, pointsBack } from '../joint/kind.ts';
import { jointKind } from '../joint/kinds.ts';
import { type JointSeat, makePiece, type Piece } from '../joint/piece.ts';
import { isSized, jointShape, leastWidth, widthFor } from '../joint/size-joint.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { fromFrame, type PlaneFrame, toFrame } from '../math/plane.ts';
import { boxOfLoops, type Loop, windingAt } from '../math/polygon.ts';
import { add, dot, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import type { Process, Seam } from '../model/job.ts';
import type { AskedJoint, SettledJoint } from '../model/joint.ts';
import { otherSide } from '../model/part-ref.ts';
import { bareFaces } from './bare-faces.ts';
import { type OnFacet, type Settle, settleAutos } from './settle-autos.ts';
import {
  type FacetHosts,
  type Host,
  type SeamHosts,
  type SeatedJoint,
  type SeatedPiece,
  type SettledSeam,
  takenRims,
} from './settled.ts';
import { sharingDraw } from './sharing-draw.ts';

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
  const settle: Settle = (on, index, id, foot, shape) => {
    const settled: SettledJoint = { id, at: add(fromFrame(on.frame, foot), originMm), ...shape };
    const same = before.find((old) => old.index === index && isSameJoint(old.settled, settled));
    return same ?? seat(hosts.seam, on, index, foot, settled);
  };
  const place = ({ asked, index, on, foot, at }: PlacedJoint, room: number) => {
    const width = Math.max(widthFor(asked, process, room), leastWidth(asked, process) ?? 0);
    const shape = jointShape(asked, process, width);
    const fault = jointKind(asked.kind).fault(shape);
    const where = { seamId: hosts.seam.id, jointId: asked.id, pegIndex: index, at };
    if (fault) findings.push(finding('peg-shape-impossible', 'error', fault, where));
    else joints.push(settle(on, index, asked.id, foot, shape));
  };
  const placed = hosts.seam.joints.flatMap((asked, index): PlacedJoint[] => {
    if (asked.at === 'auto') return [];
    const point = sub(asked.at, originMm);
    const on = facetAt(
      hosts.facets.filter(({ isBent }) => !isBent),
      point,
    );
    return [{ asked, index, on, foot: toFrame(on.frame, point), at: asked.at }];
  });
  // Those of given width first: the others take the room that is left.
  for (const one of placed.filter(({ asked }) => isSized(asked))) place(one, 0);
  const sized = [...joints];
  const unsized = placed.filter(({ asked }) => !isSized(asked));
  for (const one of unsized) {
    const feet = unsized.filter((other) => other !== one && other.on === one.on).map(({ foot }) => foot);
    place(one, roomAround(one.on, one.foot, takenRims(sized, one.on.facet), feet));
  }
  const rims: OnFacet = ({ facet }) => takenRims(joints, facet);
  const open = sharingDraw(hosts, joints);
  let found = settleAutos(hosts, open, process, others, rims, rims, settle);
  if (found.findings.length > 0 && others.length > 0) {
    // Where the face has most room another seam's joint may stand behind it.
    const shadowed: OnFacet = (on) => [...rims(on), ...others.map(({ piece }) => shadowOf(piece, on.frame))];
    const beside = settleAutos(hosts, open, process, others, rims, shadowed, settle);
    if (beside.joints.length > found.joints.length) found = beside;
  }
  const all = [...joints, ...found.joints].sort((a, b) => a.index - b.index);
  return {
    joints: all,
    findings: [...findings, ...found.findings, ...bareFaces(hosts, process, originMm, all)],
  };
}

/** A joint of its sizes at another place (mm in the file's coordinates) of its facet. */
export const reseat = (
  seam: Seam,
  on: FacetHosts,
  { index, settled }: SeatedJoint,
  at: Vec3,
  originMm: Vec3,
): SeatedJoint => seat(seam, on, index, toFrame(on.frame, sub(at, originMm)), { ...settled, at });

/** The rectangle of a facet's frame that a piece stands over or under, counter-clockwise. */
function shadowOf({ surface: { positions } }: Piece, frame: PlaneFrame): Loop {
  const points = new Float64Array((positions.length / 3) * 2);
  for (let i = 0; i < positions.length; i += 3)
    points.set(toFrame(frame, [positions[i], positions[i + 1], positions[i + 2]]), (i / 3) * 2);
  const [x0, y0, x1, y1] = boxOfLoops([points]);
  return Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
}

/**
 * The facet that a point (recentred mm) means: of those whose face it is over or under the one with the nearest plane,
 * else the one with the nearest plane of all.
 */
function facetAt(facets: readonly FacetHosts[], point: Vec3): FacetHosts {
  const heightOver = ({ frame: { n, origin } }: FacetHosts) => Math.abs(dot(n, sub(point, origin)));
  const nearest = (some: readonly FacetHosts[]) =>
    some.reduce((a, b) => (heightOver(b) < heightOver(a) ? b : a));
  const over = facets.filter(({ frame, socketed }) => {
    const [x, y] = toFrame(frame, point);
    return socketed.some(({ room }) => windingAt(room, x, y) === 1);
  });
  return nearest(over.length > 0 ? over : facets);
}

/** A joint of the job that a person placed, the facet that is meant, and its foot in that one's frame. */
interface PlacedJoint {
  asked: AskedJoint;
  index: number;
  on: FacetHosts;
  foot: Vec2;
  at: Vec3;
}

/**
 * Radius of the free circle around a foot, mm: up to the face's outline, what joints with a width take, and halfway
 * to the feet of others without. 0 off the face.
 */
function roomAround(
  { socketed }: FacetHosts,
  [x, y]: Vec2,
  rims: readonly Loop[],
  others: readonly Vec2[],
): number {
  const loops = socketed.flatMap(({ room }) => room);
  if (windingAt(loops, x, y) !== 1 || windingAt(rims, x, y) !== 0) return 0;
  return Math.min(
    nearestOnLoops([...loops, ...rims], x, y).distance,
    ...others.map(([ox, oy]) => Math.hypot(ox - x, oy - y) / 2),
  );
}

/** Equal to the bit, place and all. */
const isSameJoint = (a: SettledJoint, b: SettledJoint): boolean => JSON.stringify(a) === JSON.stringify(b);

function seat(
  { id: seamId, pegOn }: Seam,
  on: FacetHosts,
  index: number,
  footUv: Vec2,
  settled: SettledJoint,
): SeatedJoint {
  const seatOf = (spec: HostedSpec): JointSeat => ({
    seamId,
    jointId: settled.id,
    facet: on.facet,
    pegOn: pointsBack(spec) ? otherSide(pegOn) : pegOn,
    frame: on.frame,
    foot: fromFrame(on.frame, footUv),
    spinDeg: settled.spinDeg ?? 0,
  });
  const specs = jointKind(settled.kind).pieces(settled);
  const loose = specs.find((spec) => spec.in === 'loose');
  const pieces = specs
    .filter((spec) => spec.in !== 'loose')
    .map((spec): SeatedPiece => {
      const host = hostAt(on[spec.in], footUv);
      const piece = makePiece(seatOf(spec), spec, host.own);
      let known: Seating | null = null;
      return {
        in: spec.in,
        piece,
        host,
        ...(loose && spec.does === 'take' && { holds: heldPiece(seatOf(spec), loose, host) }),
        // Measured when it is first asked for: of most sizes that are tried one piece is enough to know.
        get seating() {
          known ??= seatingOf(host.part, host.room, piece);
          return known;
        },
      };
    });
  return { index, facet: on.facet, settled, pieces, hasLoosePart: loose !== undefined && !loose.isBought };
}

/** What lies loose in a socket: it begins in the facet's plane wherever the part's own face is, or, in a hollow, as that does. */
const heldPiece = (seat: JointSeat, loose: LooseSpec, { own }: Host): Piece =>
  makePiece(seat, loose, loose.body.bottom > 0 ? own : undefined);

/** The part whose face holds the point, else the one whose face is nearest. */
function hostAt(hosts: readonly Host[], [x, y]: Vec2): Host {
  const holding = hosts.find(({ room }) => windingAt(room, x, y) === 1);
  if (holding) return holding;
  const distance = ({ room }: Host) => nearestOnLoops(room, x, y).distance;
  return hosts.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}
