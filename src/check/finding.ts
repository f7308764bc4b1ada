import type { KernelDoubt } from '../errors.ts';
import type { ShapeFault } from '../joint/kind.ts';
import type { Quaternion } from '../math/quaternion.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Repair } from '../mend/report/repair.ts';
import type { Axis } from './bed/stands.ts';

/** What a check can say, with the facts its sentence needs. Lengths in mm. */
export interface FindingFacts {
  'open-edges': { count: number };
  'winding-errors': { count: number };
  'degenerate-triangles': { count: number };
  'duplicate-triangles': { count: number };
  'inside-out': { volumeMm3: number };
  /** A change that mending made on opening. */
  mended: Repair;
  /** What shells share counts twice; not `complete`: more may overlap, or some where none were found. */
  'shells-overlap': { count: number; shells: number; complete: boolean };
  /** Small shells beside the figure, which is `sizeMm` without them and `withMm` long with them; `belowMm` drops them. */
  'specks-far': { count: number; sizeMm: number; withMm: number; belowMm: number };
  /** The longest side, taken as the unit and scale say. */
  'size-unlikely': { longestMm: number; leastMm: number; mostMm: number };
  /** The steps between the places that the file's numbers, or single precision here, can tell apart. */
  'coordinates-coarse': { stepMm: number; sizeMm: number };
  'overlap-unproved': { part: string };
  'no-volume': Record<string, never>;
  'no-peg-fits': Misfit;
  'peg-shape-impossible': ShapeFault;
  'peg-off-face': Record<string, never>;
  /** The other seam only where it is another. */
  'pegs-too-close': { otherPeg: number; otherSeam?: string };
  /** Another seam's face where one is named. */
  'socket-breaks-skin': { otherSeam?: string };
  'joint-crosses-seam': { otherSeam: string; overlapMm3: number };
  /** To the skin, or to another seam's face or a joint where they are named. */
  'wall-thin': { wallMm: number; minWallMm: number; otherSeam?: string; otherPeg?: number };
  'gap-not-met': { askedMm: number; measuredMm: number; which: 'side' | 'end' };
  'gap-unmeasured': { which: 'side' | 'end' };
  /** So many joints go into both parts: magnets, which lie in their own, say nothing of how those sit. */
  'seats-more-than-one-way': { goIn: number };
  'seam-without-peg': Record<string, never>;
  /** The plane meets no face to put pegs on: so many were asked for. */
  'seam-without-face': { pegs: number };
  /** The seam's line is a curve with no flat for the pegs, of which so many were asked for. */
  'seam-all-bent': { pegs: number };
  /** A seam that cuts nothing until its part is there again, and the parts that are there and that it would divide as it lies. */
  'seam-waits': { why: LostPart; instead: readonly { id: string; name: string }[] };
  /** Of so many faces of a seam some carry no peg, the largest of so much area; and whether one would fit there. */
  'face-without-peg': { faces: number; bare: number; areaMm2: number; fits: boolean };
  /**
   * What a seam leaves whole keeps its parts from coming apart along its pegs; or bodies that it joins do (`isJoined`), or what
   * lies beside its line where that turns back and meets nothing (`isHooked`).
   */
  'draw-blocked': { isJoined: boolean; isHooked: boolean };
  /** Of two bodies that overlapped one was trimmed by the other. */
  'gives-way': { part: string; to: { part: string }; trimmedMm3: number };
  /** On a flat across curved contact one body took over what the other had there, and what filled the slit between them. */
  'flat-hands-over': { part: string; from: { part: string }; volumeMm3: number; filledMm3: number };
  /** The even gap between two that nest. */
  'nest-gap-not-met': { askedMm: number; minMm: number; maxMm: number };
  /** Two that nest, or touch otherwise than flat, share no flat face across the way they come apart: so many joints were asked for. `flatMisses`: a flat is set across, and meets nothing of both. */
  'nest-without-flat': { pegs: number; flatMisses: boolean };
  /** Faces of a seam reach round each other: its parts come apart along its sweep alone. */
  'draw-sideways': Record<string, never>;
  /** No direction clears these joints (by their indexes) and these facets, or the joints alone. */
  'draw-locked': { pegs: readonly number[]; facets: readonly number[] };
  /** One side of a seam falls into so many pieces that nothing holds together. */
  'part-in-pieces': { part: string; pieces: number };
  'clearance-missing': { which: 'side' | 'end'; gapMm: number };
  'clearance-small': { which: 'side' | 'end'; gapMm: number; leastMm: number };
  'clearance-large': { which: 'side' | 'end'; gapMm: number; mostMm: number };
  'part-not-closed': { part: string; openEdges: number };
  'part-too-thin': { part: string; thicknessMm: number };
  /** It fits when it is turned; as it stands it is `overMm` too much along the bed's `axis`. */
  'part-lies-otherwise': BedFacts;
  /** It fits in no turn that was found; so turned it is the least too much, and in none by more than `withinMm` less. */
  'part-outgrows-bed': BedFacts & { withinMm: number };
  /** A small magnet lies in a joint. */
  'small-magnet': Record<string, never>;
  /** What lies in a joint is closed in under so much material: it is put there while the part is being printed. */
  'closed-in-print': { coverMm: number };
  /** All parts are written moved by this vector, see `partsMoveMm`. */
  'parts-moved': { movedMm: Vec3 };
  'kernel-disagrees': { part: string; doubt: KernelDoubt };
  'volume-unbalanced': { residualMm3: number };
}

/** A part that is too much for the bed, along one of the bed's axes. */
interface BedFacts {
  part: string;
  /** As it stands. */
  sizeMm: Vec3;
  bedMm: Vec3;
  overMm: number;
  axis: Axis;
  /** The turn that suits it best, and which of the part's own axes is upright then; null where it leans. */
  turn: Quaternion;
  up: Axis | null;
}

/** What is short where no peg fits, and what would do. Lengths mm. */
export type Misfit =
  /** The face has room for so wide a peg; one that can be printed, of the length that was asked for if one was, is wider. */
  | { reason: 'room'; bestWidthMm: number; neededWidthMm: number; minWallMm: number; lengthMm?: number }
  /** The size that was asked for is more than the face has room for. */
  | { reason: 'asked'; askedMm: number; bestWidthMm: number; minWallMm: number }
  /** The sizes that were asked for leave the tip thinner than the wall; it could be so long. */
  | { reason: 'tip'; tipMm: number; minWallMm: number; longestMm: number }
  /** Behind the face the skin comes too near: the best that was tried left so much wall. */
  | { reason: 'depth'; bestWallMm: number; minWallMm: number }
  /** Other seams' pegs are in the way. */
  | { reason: 'joints'; minWallMm: number };

/** Why a seam has nothing to cut. Parts and seams by their ids. */
export type LostPart =
  /** Its part is there, and it does not pass through it. */
  | { is: 'misses' }
  /** No seam before it makes the part. */
  | { is: 'not-made'; of: string }
  /** A seam before it has divided the part. */
  | { is: 'divided'; of: string; by: string }
  /** The two parts that it should join do not touch. */
  | { is: 'no-contact'; of: readonly [string, string] };

export type FindingCode = keyof FindingFacts;
export type Severity = 'info' | 'warning' | 'error';

/** Something a person should know about the sculpt or a result, and where it is. */
export interface FindingOf<C extends FindingCode> {
  code: C;
  severity: Severity;
  facts: FindingFacts[C];
  seamId?: string;
  jointId?: string;
  /** The joint's place among those of its seam, from 0. */
  pegIndex?: number;
  /** A place to look at, mm in the file's coordinates. */
  at?: Vec3;
}

export type Finding = { [C in FindingCode]: FindingOf<C> }[FindingCode];

/** Where a finding belongs. */
export type Whereabouts = Pick<FindingOf<FindingCode>, 'seamId' | 'jointId' | 'pegIndex' | 'at'>;

/** Builds a finding with its code and facts checked against each other. */
export const finding = <C extends FindingCode>(
  code: C,
  severity: Severity,
  facts: FindingFacts[C],
  where: Whereabouts = {},
): Finding => ({ code, severity, facts, ...where }) as Finding;
