import { PegwrightError } from '../errors.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { toFrame } from '../math/plane.ts';
import { type Loop, loopArea } from '../math/polygon.ts';
import { sub, type Vec3 } from '../math/vec3.ts';
import type { Seam } from '../model/job.ts';
import { type Cut, findFace } from '../seam/cut.ts';

/**
 * Refuses a seam that should divide some of its plane's outlines only: a cut divides them all.
 * An outline is meant when it is the nearest to one of the seam's `through` points (file coordinates, mm).
 * @throws PegwrightError `seam-bounded`
 */
export function requireWholeCut(seam: Seam, cut: Cut, originMm: Vec3): void {
  if (!seam.through) return;
  const face = findFace(cut.back, seam.id, cut.frame, 'back');
  const outlines = (face?.loops ?? []).filter((loop) => loopArea(loop) > 0);
  const meant = new Set<Loop>();
  for (const point of seam.through) {
    const [x, y] = toFrame(cut.frame, sub(point, originMm));
    const distances = outlines.map((loop) => nearestOnLoops([loop], x, y).distance);
    meant.add(outlines[distances.indexOf(Math.min(...distances))]);
  }
  if (meant.size >= outlines.length) return;
  throw new PegwrightError('seam-bounded', {
    seamId: seam.id,
    outlines: outlines.length,
    chosen: meant.size,
  });
}
