import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { kernelCut } from '../kernel/solid.ts';
import { type Plane, type PlaneFrame, planeFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { isOfFacet, type Part } from '../mesh/part/part.ts';
import { NOTHING_ADDED } from '../mesh/part/vertices.ts';
import { outlineOf } from '../mesh/plane/outline.ts';
import { tracePlane } from '../mesh/plane/trace.ts';
import type { Side } from '../model/part-ref.ts';
import { type Bound, boundTrace } from './bounded/bound-trace.ts';
import { capTriangles } from './cap.ts';
import { isDoubled } from './doubled.ts';
import { type Face, faceOf } from './face.ts';
import { isSimpleRegion } from './simple.ts';
import { type OpenSide, splitPart } from './split.ts';

/** A flat face that a seam gives both its parts. */
export interface Facet {
  frame: PlaneFrame;
  /** Outlines in its plane that were left whole, in the frame. */
  uncut: Loop[];
  /** It stands for a bit of a curve: no joint can stand on it. */
  isBent?: true;
  /** Of parts that touch: what both have of it, and where each one's own face lies; left out where both are the frame's. */
  contact?: {
    shared: Loop[];
    planes: Readonly<Record<Side, Plane>>;
  };
}

/** Corners of each part that lie on the other's side of a seam, for it left them whole; recentred mm. */
export interface Astray {
  front: readonly Vec3[];
  back: readonly Vec3[];
}

/** Faces swept along a direction. */
export interface SweptFaces {
  along: Vec3;
  /**
   * Each by its facet, and how far the direction square to it, to the front, is turned about the sweep: degrees from u to v
   * of the sweep's own frame (`planeFrame`), counted on from run to run, so that a line may turn by more than a circle.
   */
  faces: readonly { facet: number; turnDeg: number }[];
  /** The least and the greatest turn of all runs of the line, those that meet nothing too, degrees. */
  turnsDeg: readonly [least: number, greatest: number];
}

/** How two parts that overlapped came to lie against each other. */
export interface NestFacts {
  /** The one that gave way to the other. */
  gives: Side;
  gapMm: number;
  /** How far in from the outer edge the gap closes; 0: it stays open. */
  rimMm: number;
  /** Both as they were, and as they were left. */
  before: Readonly<Record<Side, Part>>;
  after: Readonly<Record<Side, Part>>;
  /** Of the surface along which one follows the other, with the flat across it. */
  areaMm2: number;
  /** Its middle, recentred mm. */
  middle: Vec3;
}

/** What one of two parts that touch took over from the other, so that they meet on a flat. */
export interface Handed {
  /** The one that had it. */
  from: Side;
  volumeMm3: number;
  /** Of what was between them there. */
  filledMm3: number;
}

/** How two parts touch on surface of whatever shape. */
export interface TouchFacts {
  /** Of the surface of one that lies against the other. */
  areaMm2: number;
  /** Its middle, recentred mm. */
  middle: Vec3;
  /** What changed hands on a flat that was set across; null without one, or where it misses. */
  handed: Handed | null;
}

/** A part divided by a seam. Either side may be empty (no patches) when the seam misses. */
export interface Cut {
  way: 'local' | 'kernel';
  front: Part;
  back: Part;
  /** Face patches go by their numbers. */
  facets: readonly Facet[];
  /** Of parts that overlapped. */
  nest?: NestFacts;
  /** Of parts that touch otherwise than by flat faces, or on a flat that was set across. */
  touch?: TouchFacts;
  /** The way the front comes off the back, unless something is in it. */
  draw: {
    axis: Vec3;
    /** All of the front lies ahead and all of the back behind: nothing can be in the way. */
    isClear: boolean;
    /** What lies no farther on the other's side, mm, is not in its way: faces that touch may overlap by so much. */
    playMm: number;
    /** Of faces swept along a direction: the axis is what they leave, and joints have their say in it. */
    swept?: SweptFaces;
    /** What may be in the way, where it is known. */
    astray?: Astray;
  };
}

/**
 * Cuts a closed part by a plane and closes both sides with a face.
 * Our own split and cap serve whenever the outline bounds a plain region; outlines
 * that cross themselves or each other (overlapping shells) go to the kernel.
 * `near` (recentred mm) chooses the frame's origin; `bound` the outlines that are cut, all where it is left out.
 * @throws PegwrightError `seam-frees-nothing`; `seam-outlines-cross` where only some outlines are cut, and those not
 *   plain: the kernel cuts all or none. Or the kernel's refusals.
 */
export function cutPart(
  kernel: Kernel,
  part: Part,
  plane: Plane,
  seamId: string,
  near: Vec3,
  bound?: Bound,
): Cut {
  const frame = planeFrame(plane, near);
  const runs = part.patches.map((patch) => patch.triangles);
  const whole = tracePlane(part, runs, plane);
  const all = outlineOf(whole, frame);
  const bounded = bound && boundTrace(part, plane, frame, whole, all.rings, all.loops, seamId, bound);
  const { trace, rings, loops, uncut } = bounded ?? { ...all, trace: whole, uncut: [] };
  if (bounded ? bounded.isSimple : isSimpleRegion(loops, TOLERANCES.outlineSlop)) {
    const cap = capTriangles(kernel, loops);
    if (!isDoubled(trace, rings, cap)) {
      const sides = splitPart(part, plane, trace, rings);
      return {
        way: 'local',
        front: closeSide(sides.front, cap, seamId, 'front'),
        back: closeSide(sides.back, cap, seamId, 'back'),
        facets: [{ frame, uncut }],
        draw: { axis: frame.n, isClear: uncut.length === 0, playMm: 0 },
      };
    }
  }
  if (bounded) throw new PegwrightError('seam-outlines-cross', { seamId });
  return {
    way: 'kernel',
    ...kernelCut(kernel, part, plane, seamId),
    facets: [{ frame, uncut }],
    draw: { axis: frame.n, isClear: true, playMm: 0 },
  };
}

/** Adds the face: cap triangles index the rings' points one after the other. */
function closeSide(side: OpenSide, cap: Uint32Array, seamId: string, which: 'front' | 'back'): Part {
  const ids = joinIndices(side.rings);
  const triangles = cap.map((i) => ids[i]);
  if (which === 'front') triangles.reverse();
  const face = { of: { kind: 'face' as const, seamId, facet: 0 }, triangles };
  return {
    positions: side.positions,
    added: NOTHING_ADDED,
    patches: triangles.length > 0 ? [...side.patches, face] : side.patches,
  };
}

/** Faces read off their triangles, kept as long as those are. */
const faces = new WeakMap<Uint32Array, { frame: PlaneFrame; face: Face }>();

/** The face a seam's facet has in a part, or null where the part does not touch it. */
export function findFace(
  part: Part,
  seamId: string,
  facet: number,
  frame: PlaneFrame,
  which: 'front' | 'back',
): Face | null {
  const patch = part.patches.find(({ of }) => isOfFacet(of, seamId, facet));
  if (!patch) return null;
  const known = faces.get(patch.triangles);
  if (known?.frame === frame) return known.face;
  const face = faceOf(part, patch.triangles, frame, which);
  faces.set(patch.triangles, { frame, face });
  return face;
}
