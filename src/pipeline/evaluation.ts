import type { Finding } from '../check/finding.ts';
import type { PlaneFrame } from '../math/plane.ts';
import type { Vec2, Vec3 } from '../math/vec3.ts';
import type { ResolvedPeg } from '../model/resolved-peg.ts';
import type { Spread } from '../section/gap.ts';

/** What evaluating a job answers, apart from the meshes. All lengths mm. */

/**
 * How a result was come by: on the seam face alone, or by the solid kernel, on the collar
 * behind the face or on the whole part.
 */
export type Way = 'local' | 'collar' | 'kernel';

export interface PegResult {
  /** Index of the peg in its seam. */
  index: number;
  peg: ResolvedPeg;
  way: Way;
  /** Unit vector from the root to the tip. */
  axis: Vec3;
  /** Measured between the finished parts' own triangles; null where nothing of the surfaces is left to measure. */
  sideGapMm: Spread | null;
  endGapMm: Spread | null;
  /** Least wall between the socket and all else of its finished part, and where that is then. */
  wallMm: { min: number; at: Vec3 };
  /** Room left for glue: socket less peg, beyond the face. */
  glueMm3: number;
  pegMm3: number;
  socketMm3: number;
  /** Outlines on the seam face, in the seam's frame: flat x, y pairs, closed, counter-clockwise. */
  pegOutline: Float64Array;
  socketOutline: Float64Array;
  /** The nearest bit of the face outline to the socket's outline: from, to (frame coordinates); 0 mm where the socket is not inside the face. */
  faceWall: { mm: number; from: Vec2; to: Vec2 } | null;
}

export interface FaceResult {
  /** Frame of the seam plane; origin in the file's coordinates. */
  frame: PlaneFrame;
  /** Closed outlines, flat x, y pairs in the frame; counter-clockwise around material, clockwise around holes. */
  outlines: Float64Array[];
  areaMm2: number;
  perimeterMm: number;
}

export interface SeamResult extends FaceResult {
  id: string;
  way: Way;
  pegs: PegResult[];
  draw: { free: boolean; axis: Vec3; blockedAt?: Vec3 };
  oneWay: boolean;
}

export interface PartResult {
  /** "<seam id>.front" or "<seam id>.back"; "sculpt" where no seam divides it. */
  id: string;
  name: string;
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
}

export interface VolumeBalance {
  sculptMm3: number;
  partsMm3: number;
  pegsMm3: number;
  socketsMm3: number;
  /** parts − (sculpt + pegs − sockets): zero when nothing was lost or counted twice. */
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
  findings: Finding[];
  timingsMs: StepTimings;
}

/** Parts and gap cut by a plane through a peg's axis. Frame: u across the peg, v along its axis, origin at the peg's foot. */
export interface PegSection {
  seamId: string;
  pegIndex: number;
  /** Which of the peg's sizes lies across the drawing. */
  across: 'width' | 'height';
  frame: PlaneFrame;
  /** Closed outlines of each part, clipped to the peg's surroundings, flat u, v pairs; holes run the other way. */
  pegged: Float64Array[];
  socketed: Float64Array[];
  /** The peg's and the socket's own profile from face to face, open, flat u, v pairs. */
  pegProfile: Float64Array;
  socketProfile: Float64Array;
}
