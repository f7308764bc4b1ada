import type { Finding } from '../check/finding.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { OnProgress } from '../progress.ts';
import { lexicon } from './lexicon.ts';

/** The result, and nothing else, on standard output. */
export const printJson = (value: unknown): void =>
  void process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);

/** Names each step once on standard error, as it begins; silent where no terminal shows it. */
export function stderrProgress(): OnProgress {
  if (!process.stderr.isTTY) return () => {};
  let last = '';
  return (step) => {
    if (step === last) return;
    last = step;
    process.stderr.write(`${lexicon.page.step(step)}…\n`);
  };
}

export interface PrintedFinding {
  code: string;
  severity: string;
  message: string;
  count?: number;
  at?: Vec3;
  seamId?: string;
  pegIndex?: number;
}

/** Findings as the report has them: codes for programs, sentences for people. */
export const printedFindings = (findings: readonly Finding[]): PrintedFinding[] =>
  findings.map((found) => {
    const { code, severity, facts, ...where } = found;
    const count = 'count' in facts ? { count: facts.count } : {};
    return { code, severity, message: lexicon.finding(found), ...count, ...where };
  });

/** 1 when something is wrong enough to be an error, else 0. */
export const exitCodeOf = (findings: readonly Finding[]): number =>
  findings.some(({ severity }) => severity === 'error') ? 1 : 0;
