import { loopGap } from '../joint/loop-gap.ts';
import type { Piece } from '../joint/piece.ts';
import { fromFrame, toFrame } from '../math/plane.ts';
import { polygonMoments, windingAt } from '../math/polygon.ts';
import { add, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import { rounded } from '../model/seam-spec.ts';
import { reseat } from './settle-joints.ts';
import {
  doMeet,
  type FacetHosts,
  type SeamHosts,
  type SeatedJoint,
  type SeatedPiece,
  taken,
} from './settled.ts';

/** A first step and the last, in shares of the largest radius of what a joint takes from its face. */
const STEPS = [0.5, 0.25, 0.12, 0.06];
const DIRECTIONS = 6;
/** Less wall than that more is not worth a move, mm. */
const WORTH_MM = 1e-3;
/** Moves at the most, whatever there is to be gained. */
const MOVES = 40;

/**
 * A joint of the sizes it has, moved over its face to where most wall is left around what it takes: to the skin, to the
 * outline of the face and to others that stand there. A pattern search with falling steps (Hooke & Jeeves, *J. ACM* 8(2), 1961) from where it stands or
 * from the middle of its face, whichever has more. It keeps clear of the `others` by `apartMm`. Places are of the file's coordinates, mm.
 */
export function withMostWall(
  hosts: SeamHosts,
  joint: SeatedJoint,
  others: readonly SeatedPiece[],
  originMm: Vec3,
  apartMm: number,
): SeatedJoint {
  const on = hosts.facets.find(({ facet }) => facet === joint.facet);
  if (!on) return joint;
  const tryAt = (foot: Vec2): SeatedJoint | null => {
    const at = rounded(add(fromFrame(on.frame, foot), originMm));
    const moved = reseat(hosts.seam, on, joint, at, originMm);
    return taken(moved).every(({ seating }) => seating.insideFace && seating.local) &&
      moved.pieces.every(({ seating }) => seating.local) &&
      !doMeet(moved.pieces, others, apartMm)
      ? moved
      : null;
  };
  const foot = footOf(joint, on, originMm);
  const rims = others.filter(({ piece }) => isOnFacet(piece, joint)).map(({ piece }) => piece.rim);
  /** The least wall around all that it takes, mm: to the skin, to the outline of the face, and to others that stand there. */
  const wallOf = (one: SeatedJoint): number =>
    Math.min(
      ...taken(one).flatMap(({ piece: { rim }, seating: { wall, faceWall } }) => [
        wall.mm,
        faceWall.mm,
        ...(rims.length > 0 ? [loopGap(rim, rims).mm] : []),
      ]),
    );
  const [here, middle] = [tryAt(foot), tryAt(middleUnder(on, foot))];
  const start = here && middle && wallOf(middle) > wallOf(here) + WORTH_MM ? middle : (here ?? middle);
  return start ? climbed(start, on, originMm, tryAt, wallOf) : joint;
}

function climbed(
  start: SeatedJoint,
  on: FacetHosts,
  originMm: Vec3,
  tryAt: (foot: Vec2) => SeatedJoint | null,
  wallOf: (joint: SeatedJoint) => number,
): SeatedJoint {
  const radius = radiusOf(start, on, originMm);
  let here = start;
  let moves = 0;
  for (const share of STEPS) {
    for (let isBetter = true; isBetter && moves < MOVES; ) {
      isBetter = false;
      const [x, y] = footOf(here, on, originMm);
      for (let k = 0; k < DIRECTIONS && !isBetter; k++) {
        const turn = (2 * Math.PI * k) / DIRECTIONS;
        const there = tryAt([x + share * radius * Math.cos(turn), y + share * radius * Math.sin(turn)]);
        if (there === null || wallOf(there) <= wallOf(here) + WORTH_MM) continue;
        here = there;
        isBetter = true;
        moves++;
      }
    }
  }
  return here;
}

const isOnFacet = ({ of, facet }: Piece, joint: SeatedJoint): boolean =>
  facet === joint.facet && joint.pieces.some(({ piece }) => piece.of.seamId === of.seamId);

const footOf = ({ settled }: SeatedJoint, { frame }: FacetHosts, originMm: Vec3): Vec2 =>
  toFrame(frame, sub(settled.at, originMm));

/** How far what a joint takes reaches from its middle, mm. */
function radiusOf(joint: SeatedJoint, on: FacetHosts, originMm: Vec3): number {
  const [x, y] = footOf(joint, on, originMm);
  const rims = taken(joint).map(({ piece }) => piece.rim);
  return Math.max(
    ...rims.flatMap((rim) =>
      Array.from({ length: rim.length / 2 }, (_, i) => Math.hypot(rim[i * 2] - x, rim[i * 2 + 1] - y)),
    ),
  );
}

/** The middle of the face that a foot stands on. */
function middleUnder({ socketed }: FacetHosts, [x, y]: Vec2): Vec2 {
  const room = socketed.find((host) => windingAt(host.room, x, y) === 1)?.room ?? [];
  return room.length > 0 ? polygonMoments(room).centroid : [x, y];
}
