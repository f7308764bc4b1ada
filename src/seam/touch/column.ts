import { coveredRegion } from '../../kernel/covered-region.ts';
import type { Kernel } from '../../kernel/load.ts';
import { roomIn } from '../../kernel/room-in.ts';
import { type Plane, type PlaneFrame, toFrame } from '../../math/plane.ts';
import { type Loop, regionArea } from '../../math/polygon.ts';
import { dot, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import type { Side } from '../../model/part-ref.ts';
import { turned } from '../contact/flat-faces.ts';
import { isRoomy } from '../contact/is-roomy.ts';
import { planeOutline } from '../plane-outline.ts';
import { areaNormal, type Touch } from './touch.ts';

/** How far inside of the contact's edge the flat ends, mm: where it shows they touch as they did, and no edge is a feather. */
const INSET = 0.5;
/** Contact that leans to the plane by more than this (cosine of 75°) is passed over: what is put over it would hardly reach in. */
export const STEEP = 0.26;
/** Under a flat lies at least so much, mm, somewhere: less is the contact itself. */
const DEEP = 0.1;

/** What changes hands on a flat, from one of the parts. */
export interface Column {
  gives: Side;
  /** The flat as it looks to the contact: what lies in front of it changes hands. */
  ahead: Plane;
  regions: Loop[][];
  /** How far ahead the contact lies at the most, mm. */
  deepMm: number;
}

/**
 * The regions of a flat that joints may stand on, in the frame, and which part's material lies between it and the contact:
 * where both have some, of that with more room for a joint. Null where there is none.
 */
export function columnAt(
  kernel: Kernel,
  parts: Readonly<Record<Side, Part>>,
  touch: Touch,
  frame: PlaneFrame,
): Column | null {
  const flat = { normal: frame.n, offset: dot(frame.n, frame.origin) };
  const columns = (['front', 'back'] as const).flatMap((gives): Column[] => {
    // The front part lies ahead of the flat, but for what it gives.
    const ahead = gives === 'front' ? turned(flat) : flat;
    const { polygons, deepMm } = shadows(touch, gives, ahead, frame);
    if (polygons.length === 0 || deepMm < DEEP) return [];
    const within = planeOutline(parts[gives], flat, frame.origin).loops;
    const regions = coveredRegion(kernel, within, polygons, INSET).filter(isRoomy);
    return regions.length > 0 ? [{ gives, ahead, regions, deepMm }] : [];
  });
  if (columns.length < 2) return columns[0] ?? null;
  // A circle in a region has no more than its area.
  const room = ({ regions }: Column) =>
    Math.max(...regions.map((loops) => roomIn(kernel, loops, Math.sqrt(regionArea(loops) / Math.PI))));
  const [front, back] = columns;
  return room(front) >= room(back) ? front : back;
}

/** The contact ahead of a plane, seen square to it: counter-clockwise in the frame. */
function shadows(
  { pieces }: Touch,
  gives: Side,
  { normal, offset }: Plane,
  frame: PlaneFrame,
): { polygons: Loop[]; deepMm: number } {
  const polygons: Loop[] = [];
  let deepMm = 0;
  for (const side of ['front', 'back'] as const) {
    const p = pieces[side];
    // The giver's own contact looks on ahead, the other's back to the plane.
    const way = side === gives ? 1 : -1;
    for (let i = 0; i < p.length; i += 9) {
      const n = areaNormal(p, i);
      if (way * dot(n, normal) < STEEP * Math.hypot(...n)) continue;
      const ahead = inFront(
        [0, 3, 6].map((k): Vec3 => [p[i + k], p[i + k + 1], p[i + k + 2]]),
        normal,
        offset,
      );
      if (ahead.length < 3) continue;
      deepMm = Math.max(deepMm, ...ahead.map((q) => dot(normal, q) - offset));
      if (dot(n, frame.n) < 0) ahead.reverse();
      polygons.push(Float64Array.from(ahead.flatMap((q) => toFrame(frame, q))));
    }
  }
  return { polygons, deepMm };
}

/** What of a polygon lies in front of a plane (Sutherland and Hodgman, 1974). */
function inFront(corners: readonly Vec3[], normal: Vec3, offset: number): Vec3[] {
  return corners.flatMap((p, i): Vec3[] => {
    const q = corners[(i + 1) % corners.length];
    const [a, b] = [dot(normal, p) - offset, dot(normal, q) - offset];
    const kept = a >= 0 ? [p] : [];
    if (a >= 0 === b >= 0) return kept;
    const t = a / (a - b);
    return [...kept, [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])]];
  });
}
