import type { Finding } from '../check/finding.ts';
import type { Seating } from '../joint/host.ts';
import { jointsMeet } from '../joint/joints-meet.ts';
import type { HostSide } from '../joint/kind.ts';
import type { Piece } from '../joint/piece.ts';
import type { Plane, PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Seam } from '../model/job.ts';
import type { SettledJoint } from '../model/joint.ts';
import type { SweptFaces } from '../seam/cut.ts';
import type { Face } from '../seam/face.ts';

/**
 * A joint on its way from a job to a figure is **asked** for (`AskedJoint`), **settled** in size and place
 * (`SettledJoint`), **seated** in its parts (`SeatedJoint`), **made** there (`MadeJoint`) and **measured** (`JointResult`).
 */

/** A part that has some of a facet. */
export interface Host {
  partId: string;
  part: Part;
  face: Face;
  /** Outlines within which joints may stand, in the facet's frame: its face's, or what of that the other side has too. */
  room: readonly Loop[];
  /** Where its face lies, where that is not the facet's plane. */
  own?: Plane;
}

/** Both sides of a seam's facet, ready for joints. */
export interface FacetHosts {
  /** Its number among those of the seam. */
  facet: number;
  frame: PlaneFrame;
  pegged: Host[];
  socketed: Host[];
  /** It stands for a bit of a curve: no joint can stand on it. */
  isBent?: true;
}

/** A seam and those of its facets that have parts on both sides. */
export interface SeamHosts {
  seam: Seam;
  facets: FacetHosts[];
  /** How they are swept, where they are. */
  swept?: SweptFaces;
}

/** The parts on either side of a facet. */
export const hostsOn = ({ pegged, socketed }: FacetHosts): Host[] => [...pegged, ...socketed];

/** A piece in the part it is added to or taken from, and how it sits there. */
export interface SeatedPiece {
  in: HostSide;
  piece: Piece;
  host: Host;
  readonly seating: Seating;
  /** Of what is taken: what lies loose in it. */
  holds?: Piece;
}

export interface SeatedJoint {
  /** Its place among those of its seam, from 0; those that were added where faces were bare come after them. */
  index: number;
  /** The facet it stands on. */
  facet: number;
  settled: SettledJoint;
  /** The first points out of the pegged part. */
  pieces: readonly SeatedPiece[];
  /** What lies loose in it is a part of its own, both ends in one. */
  hasLoosePart: boolean;
}

/** Joints of one seam that are settled and seated. */
export interface SettledSeam {
  joints: SeatedJoint[];
  findings: Finding[];
}

/** The pieces that a joint adds to parts. */
export const added = (joint: SeatedJoint): SeatedPiece[] => piecesThat('add', joint);

/** The pieces that it takes from parts: what keeps others off. */
export const taken = (joint: SeatedJoint): SeatedPiece[] => piecesThat('take', joint);

const piecesThat = (does: 'add' | 'take', { pieces }: SeatedJoint): SeatedPiece[] =>
  pieces.filter(({ piece }) => piece.of.does === does);

/** What is taken, and what goes into it: another part's peg, or what lies loose there. */
export interface Filling {
  hole: SeatedPiece;
  by: Piece;
}

export const filling = (joint: SeatedJoint): Filling[] =>
  taken(joint).flatMap((hole) =>
    (hole.holds ? [hole.holds] : added(joint).map(({ piece }) => piece)).map((by) => ({ hole, by })),
  );

/** True where a joint has something to put together: a magnet lies in its own part alone. */
export const goesIn = (joint: SeatedJoint): boolean => joint.hasLoosePart || added(joint).length > 0;

/** Outlines on a facet, in its frame, of all that joints take from parts there. */
export const takenRims = (joints: readonly SeatedJoint[], facet: number) =>
  joints
    .filter((joint) => joint.facet === facet)
    .flatMap((joint) => taken(joint).map(({ piece }) => piece.rim));

/** True where pieces come nearer to others in some part than `apart` (mm). */
export const doMeet = (a: readonly SeatedPiece[], b: readonly SeatedPiece[], apart: number): boolean =>
  a.some((one) =>
    b.some((other) => one.host.partId === other.host.partId && jointsMeet(one.piece, other.piece, apart)),
  );
