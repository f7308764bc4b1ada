import { regionArea, regionPerimeter } from '../math/polygon.ts';
import { add } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { SeamSpec } from '../model/seam-spec.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import type { FaceResult } from './evaluation.ts';

/** Where a seam would divide a part, without dividing it. */
export function faceOutline(part: Part, by: SeamSpec, place: SculptPlace): FaceResult {
  const { frame, loops, uncut } = seamKind(by).outline(part, by, place);
  return {
    frame: { ...frame, origin: add(frame.origin, place.originMm) },
    outlines: loops,
    uncut,
    areaMm2: regionArea(loops),
    perimeterMm: regionPerimeter(loops),
  };
}
