import type { Fault, FaultKind } from './fault.ts';
import type { Told } from './report.ts';

/** Which codes say that a kind of fault is there. Those of severity error count, and warnings where they are named as such. */
const JOINT_ERRORS = [
  'gap-not-met',
  'gap-unmeasured',
  'clearance-missing',
  'pegs-too-close',
  'peg-off-face',
  'socket-breaks-skin',
  'joint-crosses-seam',
];
const PEG_ERRORS = ['no-peg-fits', 'peg-shape-impossible', 'seam-without-face', 'nest-without-flat'];
const PART_ERRORS = ['part-not-closed', 'part-too-thin', 'kernel-disagrees', 'volume-unbalanced'];

const TELLING: Record<FaultKind, { errors: readonly string[]; warnings?: readonly string[] }> = {
  open: { errors: [...PART_ERRORS, ...JOINT_ERRORS] },
  pieces: { errors: [...PART_ERRORS, ...JOINT_ERRORS] },
  'no-solid': { errors: [...PART_ERRORS, ...JOINT_ERRORS] },
  report: { errors: PART_ERRORS },
  'peg-missing': { errors: [...PEG_ERRORS, ...JOINT_ERRORS], warnings: ['seam-without-face', 'no-peg-fits'] },
  'gap-side': { errors: JOINT_ERRORS },
  'gap-end': { errors: JOINT_ERRORS },
  tight: { errors: JOINT_ERRORS },
  overlap: { errors: JOINT_ERRORS, warnings: ['shells-overlap'] },
  differs: { errors: [...PART_ERRORS, ...JOINT_ERRORS] },
  volume: { errors: [...PART_ERRORS, ...JOINT_ERRORS] },
  'wall-reported': { errors: JOINT_ERRORS },
  // That it is wider in places is told as a note.
  'nest-gap': { errors: [], warnings: ['nest-gap-not-met'] },
  'wall-thin': { errors: JOINT_ERRORS, warnings: ['wall-thin'] },
  loose: {
    errors: [...PEG_ERRORS, ...JOINT_ERRORS],
    warnings: ['part-in-pieces', 'face-without-peg', 'seam-without-peg', 'seam-without-face', 'no-peg-fits'],
  },
};

/** Findings that say what a fault is: of a code that tells of its kind, and about a seam it concerns where both name one. */
export function tellsOf({ kind, seams }: Fault, { code, severity, seamId }: Told): boolean {
  const { errors, warnings = [] } = TELLING[kind];
  const says = (severity === 'error' && errors.includes(code)) || warnings.includes(code);
  return says && (seams.length === 0 || seamId === undefined || seams.includes(seamId));
}

/** Faults that no finding tells of. */
export const untold = (faults: readonly Fault[], findings: readonly Told[]): Fault[] =>
  faults.filter((one) => !findings.some((told) => tellsOf(one, told)));
