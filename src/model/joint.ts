import type { Vec3 } from '../math/vec3.ts';
import { LIMITS } from './limits.ts';
import type { Outline } from './outline.ts';

/** A size of a joint by its name, which ends with its unit: mm or degrees. */
export type SizeName = `${string}Mm` | `${string}Deg`;

/** The kind that is asked for where nobody says which. */
export const COMMONEST_KIND = 'taper';

/** Sizes by their names; which ones there are is the kind's. */
export type Sizes = { readonly [name: SizeName]: number };

/**
 * The outline a joint has of its own, of a kind that asks for one. In a job it is called `outlineMm`, like a size, and is
 * the only one of those that is no number: it is read and given here alone.
 */
export const outlineIn = (joint: object): Outline | undefined => (joint as { outlineMm?: Outline }).outlineMm;

export const withOutline = <T extends object>(joint: T, outlineMm: Outline): T => ({ ...joint, outlineMm });

/** A joint as a job asks for it: sizes left out are settled from the face and the process. */
export interface AskedJoint {
  /** Kept as long as the joint is, whatever becomes of others: tells it from the others of its seam. */
  id: string;
  kind: string;
  /** A point on the face, mm in the file's coordinates, or "auto" to let the engine place it. */
  at: Vec3 | 'auto';
  readonly [name: SizeName]: number | undefined;
}

/** A kind of joint with every size settled, still without a place. All kinds have these gaps, mm per side. */
export interface JointShape {
  kind: string;
  sideGapMm: number;
  endGapMm: number;
  readonly [name: SizeName]: number;
}

/** A joint with every size settled: what the person gave, the rest from the face and the process. */
export interface SettledJoint extends JointShape {
  id: string;
  /** On the seam's face, mm in the file's coordinates. */
  at: Vec3;
}

/** One size that a person can type or drag. */
export interface JointField {
  name: SizeName;
  /** Least and greatest, mm or degrees. */
  limits: readonly [number, number];
  /** One step of the keyboard, mm or degrees. */
  step: number;
  /**
   * How a hand changes it on the face: as the whole width along one of the joint's own axes or along both of them at
   * once, about the middle; or as a turn about the axis. Left out: by typing alone.
   */
  grip?: 'x' | 'y' | 'both' | 'turn';
  /** How far it reaches from the face: what makes it shorter or longer. */
  isDepth?: true;
  /** An angle that may be typed as a taper, 1:x. */
  isTaper?: true;
}

/** True for a size that lies along the face and is dragged there: not a turn, and not what is typed alone. */
export const liesAlongFace = ({ grip }: JointField): boolean => grip !== undefined && grip !== 'turn';

/** Fields that more than one kind has. */
export const FIELDS = {
  length: { name: 'lengthMm', limits: LIMITS.pegLengthMm, step: 0.1, isDepth: true },
  draft: { name: 'draftDeg', limits: LIMITS.draftDeg, step: 0.5, isTaper: true },
  edgeRadius: { name: 'edgeRadiusMm', limits: LIMITS.edgeRadiusMm, step: 0.1 },
  spin: { name: 'spinDeg', limits: [-360, 360], step: 1, grip: 'turn' },
  sideGap: { name: 'sideGapMm', limits: LIMITS.sideGapMm, step: 0.01 },
  endGap: { name: 'endGapMm', limits: LIMITS.endGapMm, step: 0.05 },
} as const satisfies Record<string, JointField>;

/** Draft per side of a cone whose diameter changes by 1 in x along its axis, degrees: arctan(1 / 2x) (ISO 1119). */
export const draftOfTaper = (x: number): number => (Math.atan(1 / (2 * x)) * 180) / Math.PI;

/** The first id, "a", "b" … "z", "aa" …, that none of `taken` has. */
export function freeJointId(taken: readonly string[]): string {
  for (let n = 1; ; n++) {
    const id = lettersOf(n);
    if (!taken.includes(id)) return id;
  }
}

/** 1 is "a", 26 "z", 27 "aa". */
export function lettersOf(n: number): string {
  let letters = '';
  for (let left = n; left > 0; left = Math.floor((left - 1) / 26))
    letters = String.fromCharCode(97 + ((left - 1) % 26)) + letters;
  return letters;
}
