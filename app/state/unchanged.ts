import type {
  EvaluationView,
  FaceResult,
  FitProfiles,
  JointSection,
  PartView,
  SeamResult,
  WallContour,
} from '../../src/index.ts';
import { isSame } from './is-same.ts';

/**
 * A view with the parts, faces, contours and profiles that are as they were taken from the view before it, so that nothing is
 * drawn anew for them: what comes from the worker is always another object.
 */
export function withUnchanged(before: EvaluationView | null, view: EvaluationView): EvaluationView {
  if (before === null) return view;
  const seams = view.seams.map((seam): SeamResult => {
    const old = before.seams.find(({ id }) => id === seam.id);
    return { ...seam, facets: seam.facets.map((face, i) => withSameFace(old?.facets[i], face)) };
  });
  const contours = Object.entries(view.contours).map(([id, now]) => {
    const old = before.contours[id] ?? [];
    return [id, now.map((own, i) => (old[i] && areSameContours(old[i], own) ? old[i] : own))] as const;
  });
  const parts = view.parts.map((part) => {
    const old = before.parts.find(({ id }) => id === part.id);
    return old && isSamePart(old, part) ? old : part;
  });
  const section = before.section && view.section && withSameProfiles(before.section, view.section);
  return { ...view, parts, seams, contours: Object.fromEntries(contours), section: section ?? view.section };
}

/** Meshes go by their keys. */
const isSamePart = ({ skins, lid, ...part }: PartView, { skins: newSkins, lid: newLid, ...now }: PartView) =>
  lid.key === newLid.key &&
  skins.length === newSkins.length &&
  skins.every(({ key }, i) => key === newSkins[i].key) &&
  isSame(part, now);

const withSameFace = (old: FaceResult | undefined, face: FaceResult): FaceResult =>
  old && isSame(old.frame, face.frame) && areSameLines(old.outlines, face.outlines)
    ? { ...face, frame: old.frame, outlines: old.outlines }
    : face;

/** A peg that only moves keeps its profile but for the rounding of its corners' places, mm. */
const ROUNDING_MM = 1e-4;

function withSameProfiles(before: JointSection, section: JointSection): JointSection {
  const further = section.further.map((fit, i) => withSameLines(before.further[i], fit));
  const isSameFurther =
    further.length === before.further.length && further.every((fit, i) => fit === before.further[i]);
  const { pegProfile, socketProfile } = withSameLines(before, section);
  return {
    ...section,
    pegProfile,
    socketProfile,
    further: isSameFurther ? before.further : further,
  };
}

/** Profiles by the lines there were, where they are as they were; the fit there was where all of it is. */
function withSameLines(before: FitProfiles | undefined, fit: FitProfiles): FitProfiles {
  if (!before) return fit;
  const kept = (line: 'pegProfile' | 'socketProfile') =>
    areNear(before[line], fit[line]) ? before[line] : fit[line];
  const { footMm } = fit;
  const [pegProfile, socketProfile] = [kept('pegProfile'), kept('socketProfile')];
  const isSameFit =
    pegProfile === before.pegProfile && socketProfile === before.socketProfile && footMm === before.footMm;
  return isSameFit ? before : { pegProfile, socketProfile, footMm };
}

const areNear = (a: Float64Array, b: Float64Array): boolean =>
  a.length === b.length && a.every((value, k) => Math.abs(value - b[k]) <= ROUNDING_MM);

const areSameContours = (a: readonly WallContour[], b: readonly WallContour[]): boolean =>
  a === b ||
  (a.length === b.length &&
    a.every(({ wallMm, lines }, i) => wallMm === b[i].wallMm && areSameLines(lines, b[i].lines)));

const areSameLines = (a: readonly Float64Array[], b: readonly Float64Array[]): boolean =>
  a === b ||
  (a.length === b.length &&
    a.every((line, i) => line.length === b[i].length && line.every((value, k) => value === b[i][k])));
