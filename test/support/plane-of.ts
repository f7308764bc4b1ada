import type { Seam } from '../../src/model/job.ts';
import { heldPlane, type SeamPlane } from '../../src/model/seam-spec.ts';

/** The plane of a seam that has one. */
export function planeOf({ by }: Pick<Seam, 'by'>): SeamPlane {
  const plane = heldPlane(by);
  if (plane === null) throw new Error(`a seam by ${by.kind} has no plane`);
  return plane;
}
