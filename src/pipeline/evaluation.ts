import type { BedFit } from '../check/bed.ts';
import type { Finding } from '../check/finding.ts';
import type { PieceOutline } from '../joint/face-outlines.ts';
import type { Pole } from '../joint/kind.ts';
import type { PlaneFrame } from '../math/plane.ts';
import type { Vec2, Vec3 } from '../math/vec3.ts';
import type { SettledJoint } from '../model/joint.ts';
import type { Side } from '../model/part-ref.ts';
import type { Spread } from '../section/gap.ts';

/** What evaluating a job answers, apart from the meshes. All lengths mm. */

/**
 * How a result was come by: on the seam face alone, or by the solid kernel, on the collar
 * behind the face or on the whole part.
 */
export type Way = 'local' | 'collar' | 'kernel';

export interface JointResult {
  /** Its place among those of its seam, from 0. */
  index: number;
  settled: SettledJoint;
  /** The facet of its seam that it stands on, from 0. */
  facet: number;
  way: Way;
  /** Unit vector from the root to the tip. */
  axis: Vec3;
  /** Measured between the finished parts' own triangles; null where nothing of the surfaces is left to measure. */
  sideGapMm: Spread | null;
  endGapMm: Spread | null;
  /** Least wall between what it takes and all else of that finished part, and where that is then. */
  wallMm: { min: number; at: Vec3 };
  /** Room left for glue: what it takes less what goes in there, beyond the face. */
  glueMm3: number;
  /** What it adds to parts beyond the face, and all of a part that lies loose in it. */
  addedMm3: number;
  takenMm3: number;
  /** Outlines of its pieces on the facet, in its frame: flat x, y pairs, closed, counter-clockwise. */
  outlines: PieceOutline[];
  /** The nearest bit of the face outline to what it takes: from, to (frame coordinates); 0 mm where that is not inside the face. */
  faceWall: { mm: number; from: Vec2; to: Vec2 } | null;
  /** Of magnets in parts, by the parts' names, the pole that is turned to the other part. */
  poles?: readonly { part: string; facing: Pole }[];
}

/** A flat face of a seam. */
export interface FaceResult {
  /** Frame of its plane; origin in the file's coordinates. */
  frame: PlaneFrame;
  /** Closed outlines, flat x, y pairs in the frame; counter-clockwise around material, clockwise around holes. */
  outlines: Float64Array[];
  /** What else the seam meets and leaves whole, in the same way. */
  uncut: Float64Array[];
  areaMm2: number;
  perimeterMm: number;
  /** It stands for a bit of a curve: no joint can stand on it. */
  isBent?: true;
}

/** How two bodies that overlapped lie in each other. */
export interface NestResult {
  /** The one that was trimmed by the other. */
  gives: Side;
  /** What both lost, mm³. */
  trimmedMm3: number;
  /** Of the surface along which one follows the other, and its middle in the file's coordinates. */
  areaMm2: number;
  middle: Vec3;
  asked: { gapMm: number; rimMm: number };
  /** Measured between the trimmed surfaces, farther in than the gap closes; null where there is nothing so far in. */
  gapMm: Spread | null;
  /** The greatest gap at the outer edge, mm; null where there is no edge. */
  rimGapMm: number | null;
}

export interface TouchResult {
  /** Of the surface of one body that lies against the other, and its middle in the file's coordinates. */
  areaMm2: number;
  middle: Vec3;
  /** Of the slit between them what a flat set across filled, mm³. */
  filledMm3: number;
}

export interface SeamResult {
  id: string;
  way: Way;
  /** One at least; without outlines where the seam meets no face. */
  facets: FaceResult[];
  /** Of all facets. */
  areaMm2: number;
  joints: JointResult[];
  /** Of bodies that overlapped. */
  nest?: NestResult;
  /** Of bodies that touch otherwise than by flat faces, or on a flat set across. */
  touch?: TouchResult;
  draw: {
    free: boolean;
    axis: Vec3;
    blockedAt?: Vec3;
    /** Joints by their indexes, and facets, that no direction clears together. */
    locked?: { pegs: number[]; facets: number[] };
  };
  oneWay: boolean;
}

export interface PartResult {
  /** See `partId`. */
  id: string;
  name: string;
  /** The joint in which it lies loose, where that is where it comes from. */
  ofJoint?: { seamId: string; jointId: string };
  triangles: number;
  volumeMm3: number;
  areaMm2: number;
  boundsMm: { min: Vec3; max: Vec3 };
  closed: boolean;
  /** Edges that are open, shared by more than two triangles, or run through the same way twice. */
  openEdges: number;
  shells: number;
  /** Shells of the sculpt overlap where this part is, or may: what they share counts twice, and no kernel can prove it. */
  overlaps: boolean;
  /** Against the process's build volume; places in the file's coordinates. */
  bed: BedFit;
}

export interface VolumeBalance {
  sculptMm3: number;
  partsMm3: number;
  pegsMm3: number;
  socketsMm3: number;
  /** What bodies that overlapped lost: the sculpt counts it twice, or it became a gap. Less what filled slits between some that touch. */
  trimmedMm3: number;
  /** parts − (sculpt − trimmed + pegs − sockets): zero when nothing was lost or counted twice. */
  residualMm3: number;
}

export interface StepTimings {
  cut: number;
  joint: number;
  check: number;
}

export interface Evaluation {
  parts: PartResult[];
  seams: SeamResult[];
  volume: VolumeBalance;
  /** The parts are written moved by this, all alike; zeros where the file's own coordinates hold them. */
  movedMm: Vec3;
  /** All shells of the sculpt that overlap lie in bodies that seams have nested: what was told of them on opening is done with. */
  overlapsNested: boolean;
  findings: Finding[];
  timingsMs: StepTimings;
}

/** What goes into a part and the hole it goes into, cut: own profiles from foot to foot, open, flat u, v pairs. */
export interface FitProfiles {
  pegProfile: Float64Array;
  socketProfile: Float64Array;
  /** The v at which both begin: 0, or that of a hollow's floor. */
  footMm: number;
}

/** Parts and gap cut by a plane through a joint's axis. Frame: u across the joint, v along its axis, origin at its foot. */
export interface JointSection extends FitProfiles {
  seamId: string;
  jointId: string;
  /** Which of the joint's own axes lies across the drawing: its width or its height. */
  across: 'width' | 'height';
  frame: PlaneFrame;
  /** Closed outlines of each part, clipped to the joint's surroundings, flat u, v pairs; holes run the other way. */
  pegged: Float64Array[];
  socketed: Float64Array[];
  /** What goes into the pegged part, in the same way; its own profiles are of what goes into the socketed one. */
  further: FitProfiles[];
  /** Closed outlines of what lies loose in the joint. */
  loose: Float64Array[];
}
