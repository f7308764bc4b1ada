import {
  COMMONEST_KIND,
  contactSeam,
  freeJointId,
  type Job,
  type Process,
  partId,
  planeSeam,
  roundTo,
  SCULPT,
  type Seam,
  type TouchingBodies,
  type Vec3,
} from '../../src/index.ts';
import { words } from '../words.ts';
import { sideNames } from './side-names.ts';

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

export interface Bounds {
  min: Vec3;
  max: Vec3;
}

/**
 * A seam through the middle of the longest axis of a part, with one peg the engine places.
 * `of` is "sculpt" or "<seam id>.front|back"; `partName` is what that part is called.
 */
export function middleSeam(of: string, boundsMm: Bounds, taken: readonly string[], partName = ''): Seam {
  const size = boundsMm.max.map((high, i) => high - boundsMm.min[i]!);
  const axis = size.indexOf(Math.max(...size));
  return {
    id: freeId(taken),
    of,
    by: planeSeam(AXES[axis]!, roundTo((boundsMm.min[axis]! + boundsMm.max[axis]!) / 2, 100)),
    pegOn: 'back',
    names: sideNames(AXES[axis]!, partName),
    joints: [{ id: freeJointId([]), kind: COMMONEST_KIND, at: 'auto' }],
  };
}

/**
 * A seam that joins two bodies where they touch flat, with one joint the engine places; or where they overlap, or touch on
 * curved surface, without: they may meet on nothing flat. `names` are what they are called.
 */
export const touchingSeam = (
  { front, back, overlap, curved }: Pick<TouchingBodies, 'front' | 'back' | 'overlap' | 'curved'>,
  names: Seam['names'],
  taken: readonly string[],
): Seam => ({
  id: freeId(taken),
  of: partId(SCULPT),
  by: contactSeam(front, back),
  pegOn: 'back',
  names,
  joints: overlap || curved ? [] : [{ id: freeJointId([]), kind: COMMONEST_KIND, at: 'auto' }],
});

/** The first id that a new seam is given which none of `taken` has. */
export function freeId(taken: readonly string[]): string {
  for (let n = taken.length + 1; ; n++) if (!taken.includes(words.newSeam(n))) return words.newSeam(n);
}

/** The job a newly opened sculpt starts with. */
export const freshJob = (sculpt: Job['sculpt'], boundsMm: Bounds, process: Process): Job => ({
  format: 'pegwright-job',
  version: 2,
  sculpt,
  process,
  seams: [middleSeam(partId(SCULPT), boundsMm, [])],
});
