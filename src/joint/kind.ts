import type { Process } from '../model/job.ts';
import type { AskedJoint, JointField, JointShape, Sizes } from '../model/joint.ts';
import type { Outline } from '../model/outline.ts';
import type { BodySpec } from './parallel-body.ts';

/**
 * A kind of joint: all that is particular to it. What places, makes, checks, draws and writes joints asks here and
 * knows no kind by name.
 */
export interface JointKind {
  /** Its name in a job. */
  name: string;
  /** What can be asked of it, in the order in which people are shown it. */
  fields: readonly JointField[];
  /** The outline it begins with, of a kind that asks for one of the person's own (`outlineMm` in a job). */
  outline?: Outline;
  /** Every size that was left out gets its value here, and only here. */
  settle(asked: AskedJoint, process: Process, room: Room): JointShape;
  /** Why a shape cannot be made, or null where it can. */
  fault(shape: JointShape): ShapeFault | null;
  /** How thick the thinnest of what it adds is at its end, mm; less than nothing where it closes before. */
  tipMm(shape: JointShape): number;
  /** The longest it may be for its tip to be so thick (mm), all else as it is. */
  longestMm(shape: JointShape, tipMm: number): number;
  /** Half angle of the cone of directions about its axis in which it comes out of what it takes, degrees. */
  coneDeg(shape: JointShape): number;
  /**
   * What it adds to parts, takes from them and leaves loose between them: the same on both sides of its x axis, but for an
   * outline of the person's own, for mirroring goes by that. The first points out of the pegged part.
   */
  pieces(shape: JointShape): readonly PieceSpec[];
  /**
   * Turns about its axis, degrees, by which its outline may come to lie on itself or in another's of its kind; "any"
   * where every turn does, "by-outline" where that depends on the outline a person gave it.
   */
  turnsDeg: readonly number[] | 'any' | 'by-outline';
  /** Sizes in which what lies loose in it is to be had, the smallest first: they are offered, and others may be typed. */
  offered?: readonly Sizes[];
  /** What is to be had for one such joint and lies loose in it. */
  supply?(shape: JointShape): Supply;
  /** The pole that a magnet in either part turns to the other part. */
  poles?: Readonly<Record<HostSide, Pole>>;
  /** What a person should know who makes such a joint, as findings of severity info. */
  cautions?(shape: JointShape): readonly Caution[];
}

/** So many pieces of one size, mm. */
export interface Supply {
  count: number;
  sizes: Sizes;
}

/** The part of a seam that carries the pegs, or the one across from it. */
export type HostSide = 'pegged' | 'socketed';

export type Pole = 'N' | 'S';

/** Something to know of a joint, whatever becomes of it. Lengths mm. */
export type Caution =
  /** A small magnet lies in it. */
  | { code: 'small-magnet'; facts: Record<string, never> }
  /** What lies in it is closed in, under so much material, and has to be put there while the part is being printed. */
  | { code: 'closed-in-print'; facts: { coverMm: number } };

/** What a joint without sizes of its own has room for. */
export interface Room {
  /** How wide it may be, mm. */
  widthMm: number;
  /** The share of its usual length that it gets. */
  lengthShare: number;
}

/**
 * A body that a joint adds to or takes from a part: in the joint's own frame, cut off at the face. Its z points out of the
 * part that it is added to, or into the part that it is taken from. What is taken above the face alone (`bottom`) is a hollow.
 */
export interface HostedSpec {
  in: HostSide;
  does: 'add' | 'take';
  body: BodySpec;
}

/** What lies loose in everything that a joint takes, in the frame of each of those: that much of it lies there. */
export interface LooseSpec {
  in: 'loose';
  does: 'add';
  body: BodySpec;
  /** It is no part of its own, of which both ends are one, but comes from elsewhere, one for each. */
  isBought?: true;
}

export type PieceSpec = HostedSpec | LooseSpec;

/** True for a piece that points into the pegged part, against the joint's own z. */
export const pointsBack = ({ in: side, does }: HostedSpec): boolean =>
  (side === 'pegged') === (does === 'take');

/** Why a shape cannot be made: its sizes, `widthMm` the narrowest across it, and what would do. Lengths mm. */
export interface ShapeFault {
  reason:
    | 'edge-radius'
    | 'draft'
    | 'too-short'
    /** A side or a corner of its outline would be gone: by the edge radius, or on the way to its tip. */
    | 'outline-fine'
    /** What lies between sides of its outline closes in the socket, which is larger. */
    | 'notch-narrow'
    /** Its flat lies no nearer to the axis than its round. */
    | 'flat-outside'
    /** What covers it is not laid down whole. */
    | 'cover-thin';
  widthMm: number;
  lengthMm: number;
  edgeRadiusMm: number;
  draftDeg: number;
  would: ShapeBounds;
}

/** Sizes, mm and degrees, each of which alone would make a shape possible; the width is the narrowest across it. */
export interface ShapeBounds {
  leastWidthMm?: number;
  /** How large it must be, of what it is. */
  leastPercent?: number;
  leastLengthMm?: number;
  mostLengthMm?: number;
  mostEdgeRadiusMm?: number;
  mostDraftDeg?: number;
  leastCoverMm?: number;
}
