import type { JointShape } from '../model/joint.ts';
import { type Finding, finding, type Whereabouts } from './finding.ts';

/** Gaps as a person may ask for them, per side, mm. */
const BOUNDS = {
  /** Below this two printed surfaces touch before they are home: less than the finest layers (common practice). */
  missing: 0.01,
  /** The least that a well-set machine holds is 0.05 (common practice). */
  least: 0.05,
  /** Powder needs the most, up to 0.6 a side; at the tip a hold is lost past a few times that (common practice). */
  mostSide: 0.6,
  mostEnd: 2,
} as const;

/** Says where the gaps that were asked for let no part in, or are such as no process holds or needs. */
export function checkClearance(shape: JointShape, where: Whereabouts): Finding[] {
  return [
    ...checkOne('side', shape.sideGapMm, BOUNDS.mostSide, where),
    ...checkOne('end', shape.endGapMm, BOUNDS.mostEnd, where),
  ];
}

function checkOne(which: 'side' | 'end', gapMm: number, mostMm: number, where: Whereabouts): Finding[] {
  const { missing, least } = BOUNDS;
  if (gapMm < missing) return [finding('clearance-missing', 'error', { which, gapMm }, where)];
  if (gapMm < least) return [finding('clearance-small', 'warning', { which, gapMm, leastMm: least }, where)];
  return gapMm > mostMm ? [finding('clearance-large', 'warning', { which, gapMm, mostMm }, where)] : [];
}
