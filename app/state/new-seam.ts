import type { Job, Process, Seam, Vec3 } from '../../src/index.ts';
import { roundTo } from './job-edits.ts';

/** What a seam through the middle is called on its two sides, by the axis it is square to. */
const SIDE_NAMES = [
  { front: 'right', back: 'left' },
  { front: 'rear', back: 'front' },
  { front: 'upper', back: 'lower' },
] as const;

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
 * `of` is "sculpt" or "<seam id>.front|back"; `partName` goes before the side's name, so that
 * the parts of parts stay tellable apart.
 */
export function middleSeam(of: string, boundsMm: Bounds, taken: readonly string[], partName = ''): Seam {
  const size = boundsMm.max.map((high, i) => high - boundsMm.min[i]!);
  const axis = size.indexOf(Math.max(...size));
  const sides = SIDE_NAMES[axis]!;
  const named = (side: string) => (partName === '' ? side : `${partName} ${side}`.slice(0, 80));
  return {
    id: freeId(taken),
    of,
    plane: { normal: AXES[axis]!, offsetMm: roundTo((boundsMm.min[axis]! + boundsMm.max[axis]!) / 2, 100) },
    pegOn: 'back',
    names: { front: named(sides.front), back: named(sides.back) },
    pegs: [{ kind: 'taper', at: 'auto' }],
  };
}

function freeId(taken: readonly string[]): string {
  for (let n = taken.length + 1; ; n++) if (!taken.includes(`seam ${n}`)) return `seam ${n}`;
}

/** The job a newly opened sculpt starts with. */
export const freshJob = (sculpt: Job['sculpt'], boundsMm: Bounds, process: Process): Job => ({
  format: 'pegwright-job',
  version: 1,
  sculpt,
  process,
  seams: [middleSeam('sculpt', boundsMm, [])],
});
