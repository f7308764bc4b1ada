import type { Finding } from '../check/finding.ts';
import type { Seating } from '../joint/host.ts';
import type { Joint } from '../joint/joint.ts';
import type { PlaneFrame } from '../math/plane.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Seam } from '../model/job.ts';
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
