import type { Finding } from '../check/finding.ts';
import type { ErrorFacts, ErrorRecord } from '../errors.ts';
import type { FormatId } from '../io/formats.ts';
import type { RawBody } from '../io/raw-mesh.ts';
import type { Proof } from '../kernel/prove.ts';
import type { KernelJoint } from '../kernel/solid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Health } from '../mend/report/health.ts';
import type { Repair } from '../mend/report/repair.ts';
import type { ReSkinEstimate } from '../mend/skin/estimate-re-skin.ts';
import type { DisplayMesh } from '../mesh/display.ts';
import type { Bounds } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job, Turn } from '../model/job.ts';
import type { Mend } from '../model/mend.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { SeamPlane } from '../model/seam-spec.ts';
import type { Unit } from '../model/units.ts';
import type { Focus } from '../pipeline/draw-section.ts';
import type { Evaluation, FaceResult, JointSection, PartResult } from '../pipeline/evaluation.ts';
import type { JointMend } from '../pipeline/joint-mends.ts';
import type { SeamImage } from '../pipeline/mirror-seam.ts';
import type { OneWayMend } from '../pipeline/one-way-mends.ts';
import type { OrderStep, Reordering } from '../pipeline/reorder-seams.ts';
import type { SuggestedJoints } from '../pipeline/suggest-joints.ts';
import type { SculptSymmetry } from '../pipeline/symmetry.ts';
import type { TouchingBodies } from '../pipeline/touching-bodies.ts';
import type { Step } from '../progress.ts';
import type { LimbClick, LimbFit } from '../seam/kind.ts';
import type { WallContour } from '../seam/wall-contours.ts';

/** Messages between the page and the engine's worker: closed unions, every request with an id of its own. */

/** A body of a sculpt, as it would be a part. */
export interface BodySummary {
  id: string;
  name: string;
  /** As its file names it, '' for not at all. */
  named: string;
  /** In the file's coordinates, mm. */
  boundsMm: Bounds;
}

/** What is known of an opened sculpt. Coordinates are those of its file, in mm. */
export interface SculptSummary {
  file: string;
  format: FormatId;
  unit: Unit;
  /** Unit that the file declares, null where it declares none. */
  declaredUnit: Unit | null;
  triangles: number;
  vertices: number;
  shells: number;
  boundsMm: Bounds;
  volumeMm3: number;
  areaMm2: number;
  /** What was taken from the coordinates so that single precision holds; add it to get the file's. */
  originMm: Vec3;
  findings: Finding[];
  repairs: Repair[];
  bodies: RawBody[];
  /** The closed solids it is made of, each of which a seam may divide by itself. */
  solids: BodySummary[];
  /** False where it is on the bench to be mended and cannot be cut. */
  solid: boolean;
}

/** A figure as soon as its places are known, before anything is known of its soundness. */
export interface Glimpse {
  /** In recentred coordinates. */
  mesh: DisplayMesh;
  /** In the file's coordinates. */
  boundsMm: Bounds;
  originMm: Vec3;
}

/** One file of a figure. */
export interface SculptFile {
  name: string;
  blob: Blob;
}

/** What a change of shape would come to. */
export interface Trial {
  repairs: Repair[];
  /** As the figure would be then. */
  triangles: number;
  solid: boolean;
}

/** What a new skin would come to, before it is tried. */
export interface SkinEstimate extends ReSkinEstimate {
  cellMm: number;
}

export interface SkinView {
  /** Names the run; the same key means the same triangles as before. */
  key: string;
  /** Null when the page already holds the run of this key. */
  mesh: DisplayMesh | null;
}

/** All of a part but its skin. */
export interface LidView {
  /** The same key means the same mesh as before. */
  key: string;
  /** Null when the page already holds the mesh of this key. */
  mesh: Mesh | null;
}

/** A finished part for the screen, in recentred coordinates (add `originMm` for the file's). */
export interface PartView extends PartResult {
  /** The sculpt's own skin, in several runs where a joint was worked into it, the one that stays first. */
  skins: SkinView[];
  /** Seam faces, pegs and sockets: their triangles are flat, and so no normals are sent with every move of a peg. */
  lid: LidView;
  /** True where the part carries the seam's pegs, false where it has the sockets; null for the undivided sculpt and for what lies loose in a joint. */
  pegged: boolean | null;
  /** Unit vector the part moves along when the parts are pulled apart. */
  away: Vec3;
}

/** A seam where a hand is moving it, ahead of the evaluation. */
export interface LiveSeam {
  /** The seam, keeping to the outlines it cut where it was moved from; null where one of them ends on the way. */
  by: SeamSpec | null;
  /** Its facets, with contours of their walls. */
  faces: LiveFace[];
}

export interface LiveFace extends FaceResult {
  contours: WallContour[];
}

export interface EvaluationView extends Omit<Evaluation, 'parts'> {
  parts: PartView[];
  /** Wall contours of each seam's facets, by seam id. */
  contours: Record<string, WallContour[][]>;
  section: JointSection | null;
}

/**
 * An evaluation as it is sent: what the page holds is left out. Of seams whose faces it holds, by their keys, facets come
 * without outlines and there are no contours.
 */
export interface SentView extends EvaluationView {
  /** Names the outlines and contours of each seam's facets, by seam id; the same key means the same as before. */
  faceKeys: Record<string, string>;
}

/** A finished part for the prover; no mesh where it is more than the kernel can hold. */
export interface SolidToProve {
  part: PartResult;
  mesh: Mesh | null;
}

/** What a worker with a kernel of its own is given to do. */
export type KernelTask =
  | { type: 'prove'; mesh: Mesh }
  | { type: 'join'; part: Part; joints: readonly KernelJoint[] };

/** Why a task has no answer: its code could not be fetched, the kernel failed over it, or it took too long. */
export type Loss = 'not-loaded' | 'crashed' | 'timed-out';

/** What it answers. */
export type KernelAnswer =
  | { type: 'proved'; proof: Proof }
  | { type: 'joined'; part: Part }
  | { type: 'refused'; facts: ErrorFacts['kernel-refused'] }
  | { type: 'lost'; how: Loss };

/** How the numbers of a file are taken, and what of its shape is changed on opening. */
export interface OpenAs {
  unit: Unit | undefined;
  scale: number;
  turn?: Turn | undefined;
  mend?: readonly Mend[] | undefined;
}

export type Request =
  | ({ type: 'open'; id: number; files: readonly SculptFile[] } & OpenAs)
  | { type: 'health'; id: number }
  | { type: 'try-mend'; id: number; mend: Mend }
  /** Without a cell: of the one that suits the figure. */
  | { type: 'estimate'; id: number; cellMm: number | null }
  | { type: 'rest'; id: number }
  | { type: 'touching'; id: number }
  | { type: 'narrowest'; id: number; seamId: string; by: SeamSpec; click: LimbClick | null }
  | { type: 'square'; id: number; seamId: string; by: SeamSpec }
  /** One of a job's seams is to be moved a place. */
  | { type: 'reorder'; id: number; job: Job; seamId: string; step: OrderStep }
  /** What would bring a joint clear of what was found against it. */
  | { type: 'joint-mends'; id: number; job: Job; seamId: string; jointId: string }
  /** So many joints for a seam. */
  | { type: 'suggest-joints'; id: number; job: Job; seamId: string; count: number }
  /** What would have a seam's parts go together in one way only. */
  | { type: 'one-way-mends'; id: number; job: Job; seamId: string }
  /** Without a plane: across the one that suits the sculpt best. */
  | { type: 'symmetry'; id: number; across: SeamPlane | null }
  | { type: 'mirror'; id: number; job: Job; seamId: string; across: SeamPlane }
  /** `isHeld`: a hand is at the job, which will soon be another. */
  | {
      type: 'evaluate';
      id: number;
      job: Job;
      focus: Focus | null;
      held: string[];
      isHeld: boolean;
    }
  /** `from`: where the seam was, if it was moved from there. */
  | { type: 'outline'; id: number; seamId: string; from: SeamSpec | null; by: SeamSpec; minWallMm: number }
  | { type: 'export'; id: number; job: Job; partId: string | null }
  | { type: 'solids'; id: number; job: Job };

export type Reply =
  | { type: 'glimpse'; id: number; glimpse: Glimpse }
  /** Without a mesh where the glimpse showed it as it is. */
  | { type: 'opened'; id: number; summary: SculptSummary; mesh: DisplayMesh | null }
  | { type: 'examined'; id: number; health: Health }
  | { type: 'tried'; id: number; trial: Trial }
  | { type: 'estimated'; id: number; estimate: SkinEstimate }
  /** The direction to turn down so that the figure stands; null where it stands on no side. */
  | { type: 'rested'; id: number; down: Vec3 | null }
  | { type: 'touched'; id: number; pairs: TouchingBodies[] }
  | { type: 'fitted'; id: number; fit: LimbFit | null }
  | { type: 'symmetry'; id: number; symmetry: SculptSymmetry }
  | { type: 'mirrored'; id: number; image: SeamImage }
  | { type: 'reordered'; id: number; reordering: Reordering }
  | { type: 'joint-mended'; id: number; mends: JointMend[] }
  | { type: 'one-way-mended'; id: number; mends: OneWayMend[] }
  | { type: 'suggested'; id: number; suggested: SuggestedJoints }
  | { type: 'evaluated'; id: number; view: SentView }
  | { type: 'outlined'; id: number; live: LiveSeam }
  | { type: 'exported'; id: number; name: string; file: Blob }
  | { type: 'solids'; id: number; solids: SolidToProve[] }
  | { type: 'progress'; id: number; step: Step; done: number }
  | { type: 'failed'; id: number; error: ErrorRecord };
