import type {
  FileFault,
  FileFeature,
  FileUnit,
  ForeignKind,
  FormatName,
  Trouble,
} from './errors/file-fault.ts';
import type { JobFault } from './errors/job-fault.ts';
import type { OutlineFault } from './errors/outline-fault.ts';
import type { UsageFault } from './errors/usage-fault.ts';
import type { Step } from './progress.ts';

/**
 * Every way the engine can refuse, as a code and the facts behind it.
 * Sentences are made at the edge, of `lexicon/`.
 */

export interface ErrorFacts {
  'file-empty': { file: string };
  'file-unreadable': { file: string; trouble: Trouble };
  'file-unwritable': { file: string; trouble: Trouble };
  /** What was to be written is one of the files that were read. */
  'file-over-input': { file: string; input: string };
  'format-unknown': { file: string; looksLike?: ForeignKind };
  /** `of` names the element that holds the units, where the format has such. */
  'file-truncated': {
    file: string;
    format: FormatName;
    promised: number;
    found: number;
    unit: FileUnit;
    of?: string;
  };
  'file-malformed': { file: string; format: FormatName; line?: number; fault: FileFault };
  'file-no-triangles': { file: string; format: FormatName };
  'file-feature-unknown': { file: string; format: FormatName; feature: FileFeature };
  'file-beside-missing': { file: string; needs: string };
  'file-unpacks-too-big': { file: string; bytes: number; limit: number };
  'file-too-many': { file: string; what: 'bodies' | 'files' | 'levels'; limit: number };
  'file-too-big': { file: string; triangles: number; limit: number };
  'out-of-memory': { file: string };
  'coordinates-not-finite': { file: string; count: number };
  'mesh-not-closed': {
    file: string;
    openEdges: number;
    nonManifoldEdges: number;
    windingErrors: number;
    at: Vec3Facts;
  };
  'mesh-no-volume': { file: string };
  'job-unreadable': { file: string };
  'job-version': { file: string; version: number; newest: number };
  /** `where` is the path of the field, its steps parted by points; '' for the document itself. */
  'job-invalid': { file: string; where: string; fault: JobFault };
  /** A drawing that is to be a peg's outline; `file` is null where it was typed or drawn. */
  'outline-refused': { file: string | null; fault: OutlineFault };
  usage: { fault: UsageFault };
  'seam-misses': { seamId: string };
  /** A sheet's line, seen against its sweep, has a point twice, crosses or touches itself, or has flats that overlap. */
  'seam-line-folds': { seamId: string; is: 'doubled' | 'crosses' | 'flats'; at: Vec3Facts };
  /** The two parts that a seam should join do not touch. */
  'seam-without-contact': { seamId: string; of: readonly [string, string] };
  /** The two parts that a seam should nest do not overlap. */
  'seam-without-overlap': { seamId: string; of: readonly [string, string] };
  /** Of two parts that a seam should nest the inner one lies wholly within the other: it could not be put in. */
  'nest-swallowed': { seamId: string; inner: string; outer: string };
  /** Surface moved by the gap runs through itself or out of its part at `at`. */
  'nest-gap-crosses': { seamId: string; gapMm: number; rimMm: number; at: Vec3Facts };
  /** The outlines chosen of a seam part nothing from anything: what they divide is joined at `at`, within another outline. */
  'seam-frees-nothing': { seamId: string; chosen: number; at: Vec3Facts };
  /** Of a seam that divides some outlines only. */
  'seam-outlines-cross': { seamId: string };
  /** A seam between bodies that touch: their images would be other bodies. */
  'seam-not-mirrored': { seamId: string };
  /** Where the image of a seam would be one is already: itself, or another. */
  'mirror-on-seam': { seamId: string; on: string };
  /** No part is where the image of the seam's face would be. */
  'mirror-misses': { seamId: string };
  /** The seam that has divided that part before, if one has; and the parts there are instead. */
  'seam-part-unknown': {
    seamId: string;
    of: string;
    dividedBy: string | null;
    parts: readonly { id: string; name: string }[];
  };
  /** A seam that cannot be moved past another without the parts coming out otherwise. */
  'seam-order-fixed': { seamId: string; past: string; why: OrderFault };
  're-skin-too-fine': {
    cellMm: number;
    leastCellMm: number;
    cells: number;
    limit: number;
    limitAlong: number;
  };
  're-skin-empty': { cellMm: number };
  'kernel-refused': { step: Step; doubt: KernelDoubt };
  'kernel-lost': { step: Step };
  /** Code of the workbench that could not be fetched: the engine itself, its solid kernel, or what a step needs. */
  'not-loaded': { what: 'engine' | 'kernel' | 'step' };
  'part-unproved': { part: string; doubt: KernelDoubt };
  cancelled: Record<string, never>;
}

/** Why two seams cannot change places. Seams by their ids. */
export type OrderFault =
  /** The one that would come first meets another part as well, by its name. */
  | { is: 'cuts-more'; seamId: string; part: string }
  /** The one that would come first would not free what it frees now. */
  | { is: 'parts-otherwise'; seamId: string }
  /** A seam would have nothing to cut. */
  | { is: 'loses-part'; seamId: string };

/** Why the solid kernel does not take or make something, or does not agree with what was measured of it. */
export type KernelDoubt =
  | { is: 'too-big'; triangles: number; limit: number }
  | { is: 'not-manifold' }
  /** Anything else that it says, in its own words. */
  | { is: 'said'; words: string }
  | { is: 'crashed' | 'timed-out' }
  | { is: 'triangles-off'; held: number; of: number }
  | { is: 'volume-off'; mm3: number };

type Vec3Facts = readonly [number, number, number];

export type ErrorCode = keyof ErrorFacts;

/** A refusal. `code` is one of a closed union; `facts` has what a sentence needs. */
export class PegwrightError<C extends ErrorCode = ErrorCode> extends Error {
  readonly code: C;
  readonly facts: ErrorFacts[C];
  /** The file it is about, where the facts do not name one themselves. */
  about: string | null = null;

  constructor(code: C, facts: ErrorFacts[C]) {
    super(`${code} ${JSON.stringify(facts)}`);
    this.name = 'PegwrightError';
    this.code = code;
    this.facts = facts;
  }
}

/** What a failure nobody foresaw is told as. */
export interface InternalFacts {
  reason: string;
}

/** An error as plain data, to cross a worker boundary. */
export type ErrorRecord =
  | { [C in ErrorCode]: { code: C; facts: ErrorFacts[C] } }[ErrorCode]
  | { code: 'internal'; facts: InternalFacts };

/** How browsers say that code asked for while running could not be fetched. They give it no name of its own. */
const CODE_MISSING = /dynamically imported module|importing a module script failed/i;

/** Plain record of any thrown value; what is not ours becomes `internal` with its message. */
export function toErrorRecord(thrown: unknown): ErrorRecord {
  if (thrown instanceof PegwrightError)
    return { code: thrown.code, facts: { ...thrown.facts } } as ErrorRecord;
  const reason = thrown instanceof Error ? thrown.message : String(thrown);
  if (CODE_MISSING.test(reason)) return { code: 'not-loaded', facts: { what: 'step' } };
  return { code: 'internal', facts: { reason } };
}
