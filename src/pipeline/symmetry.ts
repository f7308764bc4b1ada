import { movePlane } from '../math/plane.ts';
import { sub } from '../math/vec3.ts';
import { type SymmetryFinder, symmetryFinder } from '../mesh/symmetry/find-symmetry.ts';
import type { SymmetryMeasures } from '../mesh/symmetry/measure-symmetry.ts';
import { planeOf, planeTo, type SeamPlane } from '../model/seam-spec.ts';
import { requireSolid, type Sculpt } from './sculpt.ts';

/** How far a sculpt is its own mirror image across a plane, in the file's coordinates; lengths mm. */
export interface SculptSymmetry extends SymmetryMeasures {
  across: SeamPlane;
}

const known = new WeakMap<Sculpt, SymmetryFinder>();

/**
 * Measures a sculpt across a plane; without one, across the plane that is the most of a plane of symmetry to it.
 * @throws PegwrightError `mesh-not-closed` or `mesh-no-volume`.
 */
export function sculptSymmetry(sculpt: Sculpt, across: SeamPlane | null): SculptSymmetry {
  requireSolid(sculpt);
  const { mesh, boundsMm, originMm } = sculpt;
  let finder = known.get(sculpt);
  if (!finder) {
    finder = symmetryFinder(mesh, { min: sub(boundsMm.min, originMm), max: sub(boundsMm.max, originMm) });
    known.set(sculpt, finder);
  }
  const { plane, ...measured } = across ? finder.across(movePlane(planeOf(across), originMm)) : finder.find();
  return { across: across ?? planeTo(plane, originMm), ...measured };
}
