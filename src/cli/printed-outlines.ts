import { fromFrame } from '../math/plane.ts';
import { loopArea, loopPerimeter, polygonMoments } from '../math/polygon.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { FaceResult } from '../pipeline/evaluation.ts';

/** One closed outline in numbers; a hole has negative area. Centroid in the file's coordinates, mm. */
export interface PrintedOutline {
  areaMm2: number;
  perimeterMm: number;
  centroid: Vec3;
}

/** A face's outlines for a report. */
export const printedOutlines = ({
  frame,
  outlines,
}: Pick<FaceResult, 'frame' | 'outlines'>): PrintedOutline[] =>
  outlines.map((loop) => ({
    areaMm2: loopArea(loop),
    perimeterMm: loopPerimeter(loop),
    centroid: fromFrame(frame, polygonMoments([loop]).centroid),
  }));
