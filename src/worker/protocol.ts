import type { Finding } from '../check/finding.ts';
import type { ErrorRecord } from '../errors.ts';
import type { RawBody } from '../io/raw-mesh.ts';
import type { Proof } from '../kernel/prove.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Health } from '../mend/health.ts';
import type { Repair } from '../mend/repair.ts';
import type { DisplayMesh } from '../mesh/display.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { Job, Turn } from '../model/job.ts';
import type { Mend } from '../model/mend.ts';
import type { Unit } from '../model/units.ts';
import type { Focus } from '../pipeline/draw-section.ts';
import type { Evaluation, FaceResult, PartResult, PegSection } from '../pipeline/evaluation.ts';
import type { Step } from '../progress.ts';
import type { WallContour } from '../seam/wall-contours.ts';

/** Messages between the page and the engine's worker: closed unions, every request with an id of its own. */

/** What is known of an opened sculpt. Coordinates are those of its file, in mm. */
export interface SculptSummary {
  file: string;
  format: string;
  unit: Unit;
  triangles: number;
  vertices: number;
  shells: number;
  boundsMm: { min: Vec3; max: Vec3 };
  volumeMm3: number;
  areaMm2: number;
  /** What was taken from the coordinates so that single precision holds; add it to get the file's. */
  originMm: Vec3;
  findings: Finding[];
  repairs: Repair[];
  bodies: RawBody[];
}

/** A finished part for the screen, in recentred coordinates (add `originMm` for the file's). */
export interface PartView extends PartResult {
  /** Names the skin; the same key means the same triangles as before. */
  skinKey: string;
  /** Null when the page already holds the skin of this key. */
  skin: DisplayMesh | null;
  /** Seam faces, pegs and sockets. */
  lid: DisplayMesh;
  /** True where the part carries the seam's pegs, false where it has the sockets; null for the undivided sculpt. */
  pegged: boolean | null;
  /** Unit vector the part moves along when the parts are pulled apart. */
  away: Vec3;
}

export interface EvaluationView extends Omit<Evaluation, 'parts'> {
  parts: PartView[];
  /** Wall contours of each seam's face, by seam id. */
  contours: Record<string, WallContour[]>;
  section: PegSection | null;
}

/** A finished part for the prover; no mesh where it is more than the kernel can hold. */
export interface SolidToProve {
  part: PartResult;
  mesh: Mesh | null;
}

/** Between the client and the prover's worker. */
export interface ProofRequest {
  id: number;
  mesh: Mesh;
}

export interface ProofReply {
  id: number;
  /** Null where the kernel was lost. */
  proof: Proof | null;
  error: ErrorRecord | null;
}

/** How the numbers of a file are taken, and what of its shape is changed on opening. */
export interface OpenAs {
  unit: Unit | undefined;
  scale: number;
  turn?: Turn | undefined;
  mend?: readonly Mend[] | undefined;
}

export type Request =
  | ({ type: 'open'; id: number; file: Blob; name: string } & OpenAs)
  | { type: 'health'; id: number }
  | { type: 'evaluate'; id: number; job: Job; focus: Focus | null; heldSkins: string[] }
  | { type: 'outline'; id: number; seamId: string; normal: Vec3; offsetMm: number }
  | { type: 'export'; id: number; job: Job; partId: string | null }
  | { type: 'solids'; id: number; job: Job };

export type Reply =
  | { type: 'opened'; id: number; summary: SculptSummary; mesh: DisplayMesh }
  | { type: 'examined'; id: number; health: Health }
  | { type: 'evaluated'; id: number; view: EvaluationView }
  | { type: 'outlined'; id: number; face: FaceResult }
  | { type: 'exported'; id: number; name: string; file: Blob }
  | { type: 'solids'; id: number; solids: SolidToProve[] }
  | { type: 'progress'; id: number; step: Step; done: number }
  | { type: 'failed'; id: number; error: ErrorRecord };
