/** Kinds of what can be wrong with what was written. */
export type FaultKind =
  | 'open'
  | 'pieces'
  | 'no-solid'
  | 'report'
  | 'peg-missing'
  | 'gap-side'
  | 'gap-end'
  | 'tight'
  | 'overlap'
  | 'differs'
  | 'volume'
  | 'wall-reported'
  | 'wall-thin'
  | 'nest-gap'
  | 'loose';

/** Something the judge found wrong, and the seams it concerns; none: it may be anyone's. */
export interface Fault {
  kind: FaultKind;
  seams: readonly string[];
  detail: string;
}

export const fault = (kind: FaultKind, seams: readonly string[], detail: string): Fault => ({
  kind,
  seams,
  detail,
});
