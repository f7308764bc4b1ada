import type { ErrorRecord } from '../errors.ts';
import type { Proving } from '../progress.ts';

/** What the page tells of itself, with the facts its sentence needs. */
export interface NoticeFacts {
  /** A figure took the place of another. */
  'opened-instead': { file: string; before: string };
  'no-file-dropped': NoFacts;
  'demo-missing': NoFacts;
  /** Seams that have lost their parts by what was done, by the names of the two they make. */
  'seams-left-waiting': { seams: readonly { front: string; back: string }[] };
  /** What was kept from the last visit could not be opened: files are gone, or it was refused or stopped. */
  'kept-unopened': { why: Said | 'files-gone' };
  'job-applied': { job: string };
  /** A job that waits for the files of its sculpt. */
  'job-awaits': { job: string; files: readonly string[] };
  'open-stopped': NoFacts;
  'reopen-stopped': NoFacts;
  'look-stopped': NoFacts;
  'work-stopped': NoFacts;
  'export-stopped': NoFacts;
  'stands-nowhere': NoFacts;
  'not-kept': NoFacts;
  restarted: NoFacts;
  'lost-again': NoFacts;
  /** `waiting`: how many seams are not cut in it. */
  exported: { file: string; proving: Proving; waiting: number };
  'beside-face': NoFacts;
  /** A limb was to be clicked, and the click went beside the figure. */
  'beside-figure': NoFacts;
  /** An outline that a seam cut is no more where it was moved to. */
  'outlines-ended': NoFacts;
  /** A line has one point or none. */
  'line-too-short': Record<string, never>;
  /** A seam was put where its limb is narrowest. */
  'narrowest-found': { beforeMm2: number; afterMm2: number };
  'no-limb': NoFacts;
  /** A seam was turned square to its limb. */
  'squared-to-limb': { beforeMm2: number; afterMm2: number; turnedDeg: number };
  'no-direction': NoFacts;
  /** Joints were placed: so many, with the least wall that they leave. */
  'pegs-placed': { count: number; wallMm: number; oneWay: boolean };
  /** Of so many joints no more than some have room, which changes nothing. */
  'fewer-pegs-fit': { asked: number; fit: number };
  /** A seam was mirrored: what its image's parts are called, and the areas of both faces. */
  'seam-mirrored': { front: string; back: string; ownMm2: number; imageMm2: number };
}

type NoFacts = Record<string, never>;

export type NoticeCode = keyof NoticeFacts;
export type Notice = { [C in NoticeCode]: { code: C; facts: NoticeFacts[C] } }[NoticeCode];

/** What can be said in a line: a notice, or why something was refused. */
export type Said = Notice | ErrorRecord;

/** Builds a notice with its code and facts checked against each other. */
export const notice = <C extends NoticeCode>(
  code: C,
  ...[facts = {} as NoticeFacts[C]]: NoticeFacts[C] extends NoFacts ? [] : [facts: NoticeFacts[C]]
): Notice => ({ code, facts }) as Notice;
