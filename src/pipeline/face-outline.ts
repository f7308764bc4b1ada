import type { Kernel } from '../kernel/load.ts';
import { type Loop, regionArea, regionPerimeter } from '../math/polygon.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { Facet } from '../seam/cut.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import type { FaceResult } from './evaluation.ts';

/** Where a seam would divide a part, facet by facet, without dividing it. */
export const faceOutlines = (
  kernel: Kernel,
  of: readonly Part[],
  by: SeamSpec,
  place: SculptPlace,
): FaceResult[] =>
  seamKind(by)
    .outline(kernel, of, by, place)
    .map((outline) => faceResult(outline, outline.loops, place.originMm));

/** A flat face and its outlines for those who ask; the frame in recentred coordinates. */
export const faceResult = (
  { frame, uncut, isBent }: Pick<Facet, 'frame' | 'uncut' | 'isBent'>,
  outlines: readonly Loop[],
  originMm: Vec3,
): FaceResult => ({
  frame: { ...frame, origin: add(frame.origin, originMm) },
  outlines: [...outlines],
  uncut,
  areaMm2: regionArea(outlines),
  perimeterMm: regionPerimeter(outlines),
  ...(isBent && { isBent }),
});
