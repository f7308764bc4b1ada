import type { EvaluationView, SeamResult, WallContour } from '../../src/index.ts';
import { isSame } from './is-same.ts';

/**
 * A view with the faces and contours that are as they were taken from the view before it, so that nothing is drawn
 * anew for them: what comes from the worker is always another object.
 */
export function withUnchanged(before: EvaluationView | null, view: EvaluationView): EvaluationView {
  if (before === null) return view;
  const seams = view.seams.map((seam): SeamResult => {
    const old = before.seams.find(({ id }) => id === seam.id);
    if (!old || !isSame(old.frame, seam.frame) || !areSameLines(old.outlines, seam.outlines)) return seam;
    return { ...seam, frame: old.frame, outlines: old.outlines };
  });
  const contours = Object.entries(view.contours).map(([id, now]) => {
    const old = before.contours[id];
    return [id, old && areSameContours(old, now) ? old : now] as const;
  });
  return { ...view, seams, contours: Object.fromEntries(contours) };
}

const areSameContours = (a: readonly WallContour[], b: readonly WallContour[]): boolean =>
  a.length === b.length &&
  a.every(({ wallMm, lines }, i) => wallMm === b[i].wallMm && areSameLines(lines, b[i].lines));

const areSameLines = (a: readonly Float64Array[], b: readonly Float64Array[]): boolean =>
  a.length === b.length &&
  a.every((line, i) => line.length === b[i].length && line.every((value, k) => value === b[i][k]));
