import type { Finding } from '../check/finding.ts';
import type { FileFault } from '../errors/file-fault.ts';
import type { ErrorRecord } from '../errors.ts';
import type { DefectKind } from '../mend/report/health.ts';
import type { Repair, RepairCode } from '../mend/report/repair.ts';
import type { drawings } from './english/drawings.ts';
import type { page } from './english/page.ts';
import type { terminal } from './english/terminal.ts';
import type { Names } from './names.ts';
import type { Notice } from './notice.ts';
import type { Numbers } from './numbers.ts';

/**
 * Everything a language says: a sentence for every code there is, from its facts, and the words of the page, the drawings
 * and the terminal, as English has them. Whatever a translation leaves out fails to compile.
 */
export interface Language {
  /** BCP 47. What a person asks for is matched by its first part. */
  tag: string;
  numbers: Numbers;
  /** What is wrong, where, what to do. A sentence about a file begins with its name and a colon. */
  refusals: { [C in ErrorRecord['code']]: (facts: FactsOf<ErrorRecord, C>, names: Names) => string };
  findings: { [C in Finding['code']]: (facts: FactsOf<Finding, C>, where: FindingPlace) => string };
  repairs: { [C in RepairCode]: (repair: Repair) => string };
  defects: { [K in DefectKind]: (count: number) => string };
  notices: { [C in Notice['code']]: (facts: FactsOf<Notice, C>, saying: Saying) => string };
  page: typeof page;
  drawings: typeof drawings;
  terminal: typeof terminal;
}

type FactsOf<Said extends { code: string; facts: unknown }, C extends Said['code']> = Extract<
  Said,
  { code: C }
>['facts'];

/** The peg that a finding is about, counted from 1; null where it is about none. And what it names by an id. */
export interface FindingPlace {
  peg: number | null;
  names: Names;
}

/** What a reader finds wrong within a file, to stand within a sentence. */
export type FaultWords = {
  [F in FileFault['is']]: (fault: Extract<FileFault, { is: F }>) => string;
};

/** Says what a notice quotes. */
export type Saying = (said: Notice | ErrorRecord) => string;
