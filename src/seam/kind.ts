import type { Kernel } from '../kernel/load.ts';
import type { PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { Cut } from './cut.ts';

/** Where a sculpt lies. */
export interface SculptPlace {
  /** What was taken from its file's coordinates, mm. */
  originMm: Vec3;
  /** Its middle in recentred mm: faces are drawn around the points of their planes nearest to it. */
  middle: Vec3;
  /** Its longest side, mm. */
  longestMm: number;
}

/** Where a facet of a seam would divide a part: closed outlines in a frame, recentred mm. */
export interface SeamOutline {
  frame: PlaneFrame;
  loops: Loop[];
  /** What else it meets and leaves whole. */
  uncut: Loop[];
  /** See `Facet`. */
  isBent?: true;
}

/** A point of a figure's skin, in the file's coordinates, and a direction into the figure from there. */
export interface LimbClick {
  at: Vec3;
  inward: Vec3;
}

/** A seam as it suits a limb, and the area of the limb's section before and after, mm². */
export interface LimbFit {
  by: SeamSpec;
  beforeMm2: number;
  afterMm2: number;
}

/** A kind of seam: all that is particular to how it divides. What cuts, checks and draws asks here. */
export interface SeamKind<Spec extends SeamSpec = SeamSpec> {
  /**
   * Divides a closed part and closes both sides, or joins two that touch, front first. Either side may be empty where the
   * seam misses.
   */
  cut(kernel: Kernel, of: readonly Part[], by: Spec, seamId: string, place: SculptPlace): Cut;
  /**
   * Where it would divide, facet by facet, without dividing: cheap enough to follow a hand. Nowhere for one that no hand
   * moves, or that cannot divide.
   */
  outline(kernel: Kernel, of: readonly Part[], by: Spec, place: SculptPlace): SeamOutline[];
  /**
   * The seam as it was moved to `by` from where it was, keeping to the outlines it cut there: each is followed along its
   * limb. Null where one of them ends on the way.
   */
  follow(of: readonly Part[], from: Spec, by: Spec, place: SculptPlace): Spec | null;
  /**
   * The seam where the limb that was clicked is locally narrowest, with null the limb that the seam cuts now; null where
   * there is none, or one that only thins to its end.
   */
  narrowest(of: readonly Part[], by: Spec, click: LimbClick | null, place: SculptPlace): LimbFit | null;
  /**
   * The seam turned square to the limb that it cuts, about the middle of its section of it; null where that limb has no
   * clear direction there, or it cuts none.
   */
  squared(of: readonly Part[], by: Spec, place: SculptPlace): LimbFit | null;
}
