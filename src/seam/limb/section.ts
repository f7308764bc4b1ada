import { fromFrame, type Plane, type PlaneFrame, planeFrame, toFrame } from '../../math/plane.ts';
import { type Loop, polygonMoments } from '../../math/polygon.ts';
import { regionsOf } from '../../math/regions.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { groupAt } from '../bounded/outline-groups.ts';
import { planeOutline } from '../plane-outline.ts';
import { NearOutlines } from './near-outlines.ts';

/** Where a plane passes through one limb of a figure. Recentred mm. */
export interface LimbSection {
  plane: Plane;
  areaMm2: number;
  centroid: Vec3;
  /** Its outlines in the frame of its plane at the point it was asked for at, mm. */
  loops: Loop[];
  /** How far its outline goes from the point it was asked for at, mm. */
  reachMm: number;
  /** How many limbs the plane is known to pass through. */
  limbs: number;
}

/** One that knows how its area grows as its plane rises (mm² a mm), and as it is tilted about the centroid (mm² by the tangents of its leans along u and v). */
export interface SlopingSection extends LimbSection {
  slope: Vec3;
}

/**
 * The section that a plane makes of the limb at a point: the region which the point, seen along the normal, is in, else
 * the nearest. Null where the plane meets nothing.
 */
export function limbSection(part: Part, plane: Plane, near: Vec3): LimbSection | null {
  const { frame, loops } = planeOutline(part, plane, near);
  return sectionOf(plane, frame, loops, near);
}

function sectionOf(plane: Plane, frame: PlaneFrame, loops: Loop[], near: Vec3): LimbSection | null {
  const regions = regionsOf(loops);
  const at = groupAt(
    regions.map((around) => ({ around })),
    toFrame(frame, near),
  );
  if (at < 0) return null;
  const { areaMm2, centroid } = polygonMoments(regions[at]);
  const reachMm = reachOf(regions[at]);
  const limbs = regions.length;
  return { plane, areaMm2, centroid: fromFrame(frame, centroid), loops: regions[at], reachMm, limbs };
}

/** How far loops go from their frame's origin, mm. */
function reachOf(loops: readonly Loop[]): number {
  let square = 0;
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) square = Math.max(square, loop[i] ** 2 + loop[i + 1] ** 2);
  }
  return Math.sqrt(square);
}

/**
 * The slopes of an area: a corner that moves by m adds the cross product of m and half the way from the corner before it to
 * the next (the shoelace formula, differentiated).
 */
function slopeOf(
  { loops, centroid }: LimbSection,
  frame: PlaneFrame,
  moves: ReadonlyMap<Loop, Float64Array>,
): Vec3 {
  const [cx, cy] = toFrame(frame, centroid);
  const slope: [number, number, number] = [0, 0, 0];
  for (const loop of loops) {
    const by = moves.get(loop) ?? new Float64Array(loop.length);
    for (let i = 0; i < loop.length; i += 2) {
      const before = i === 0 ? loop.length - 2 : i - 2;
      const after = i + 2 === loop.length ? 0 : i + 2;
      const grows =
        (by[i] * (loop[after + 1] - loop[before + 1]) - by[i + 1] * (loop[after] - loop[before])) / 2;
      slope[0] += grows;
      slope[1] -= grows * (loop[i] - cx);
      slope[2] -= grows * (loop[i + 1] - cy);
    }
  }
  return slope;
}

/** How far is looked for a section, in times as far as it is expected to go: first, and where it goes farther. */
const REACHES = [1.25, 3];

/** Sections of one limb by planes that are tried one after the other: each looks at what lies about the point alone. */
export class LimbSections {
  readonly #outlines: NearOutlines;

  constructor(part: Part) {
    this.#outlines = new NearOutlines(part);
  }

  /**
   * As `limbSection` has it, but that a section which goes three times as far from the point as is expected, or lies as far
   * off, is taken to be none of that limb: null.
   */
  at(plane: Plane, near: Vec3, expectedMm: number): SlopingSection | null {
    const frame = planeFrame(plane, near);
    for (const reach of REACHES.map((times) => times * expectedMm)) {
      const moves = this.#outlines.loops(frame, reach);
      const found = sectionOf(plane, frame, [...moves.keys()], near);
      // Of a section that is all within reach there is nothing that was not looked at.
      if (found && found.reachMm <= reach) return { ...found, slope: slopeOf(found, frame, moves) };
    }
    return null;
  }
}
