import { drawingWords } from '../words.ts';
import {
  type FitProfiles,
  halfExtents,
  heightsOf,
  type JointResult,
  type JointSection,
  outlineIn,
} from './engine.ts';

/** A joint as a section cuts it: all that is drawn and said of it wherever on the face it stands. */
export interface CutJoint extends FitProfiles {
  /** What goes into the other part, where something does. */
  further: JointSection['further'];
  /** The peg's size at the face, across the drawing, and where its middle is there, mm. */
  acrossMm: number;
  middleMm: number;
  /** From its foot to its tip. */
  lengthMm: number;
  draftDeg: number;
  edgeRadiusMm: number;
  /** The gaps that were asked for, mm. */
  sideGapMm: number;
  endGapMm: number;
  /** The gaps as they measure on the finished parts, in words: their means, and how far they spread. */
  sideGap: string;
  endGap: string;
  sideSpread: string;
  endSpread: string;
}

export function cutJoint(section: JointSection, result: JointResult): CutJoint {
  const { across, pegProfile, socketProfile, footMm, further } = section;
  const { settled } = result;
  const { tipMm } = heightsOf(settled);
  const { draftDeg = 0, edgeRadiusMm = 0, sideGapMm, endGapMm } = settled;
  return {
    pegProfile,
    socketProfile,
    footMm,
    further,
    ...placeAcross(settled, across, pegProfile),
    lengthMm: tipMm - footMm,
    draftDeg,
    edgeRadiusMm,
    sideGapMm,
    endGapMm,
    sideGap: drawingWords.mean(result.sideGapMm),
    endGap: drawingWords.mean(result.endGapMm),
    sideSpread: drawingWords.spread(drawingWords.sideGap, result.sideGapMm),
    endSpread: drawingWords.spread(drawingWords.endGap, result.endGapMm),
  };
}

/** An outline of a person's own may be cut anywhere: it is as wide as the cut has it. Others lie about their axis. */
function placeAcross(
  settled: JointResult['settled'],
  across: JointSection['across'],
  profile: Float64Array,
): Pick<CutJoint, 'acrossMm' | 'middleMm'> {
  const [halfX, halfY] = halfExtents(settled, 'add');
  const half = across === 'width' ? halfX : halfY;
  if (!outlineIn(settled) || profile.length === 0) return { acrossMm: 2 * half, middleMm: 0 };
  const [a, b] = [profile[0], profile[profile.length - 2]];
  return { acrossMm: Math.abs(b - a), middleMm: (a + b) / 2 };
}

/** True where nothing about the joint would be drawn otherwise. */
export const isSameJoint = (a: CutJoint, b: CutJoint): boolean =>
  (Object.keys(a) as (keyof CutJoint)[]).every((key) => a[key] === b[key]);
