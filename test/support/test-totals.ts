import { existsSync, readFileSync } from 'node:fs';

/** How many tests of a run ended which way. */
export interface Totals {
  passed: number;
  failed: number;
  skipped: number;
}

export const sumTotals = (all: readonly Totals[]): Totals =>
  all.reduce(
    (sum, { passed, failed, skipped }) => ({
      passed: sum.passed + passed,
      failed: sum.failed + failed,
      skipped: sum.skipped + skipped,
    }),
    { passed: 0, failed: 0, skipped: 0 },
  );

/** What vitest's JSON report holds, as far as it is read here. */
interface UnitReport {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  testResults: { status: string; assertionResults: unknown[] }[];
}

/** A test file that did not load has no tests of its own; it counts as one that failed. */
export function unitTotals(report: UnitReport): Totals {
  const unloaded = report.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0,
  );
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + unloaded.length,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

/** What Playwright's JSON report holds, as far as it is read here. */
interface BrowserReport {
  stats: { expected: number; unexpected: number; flaky: number; skipped: number };
  errors: unknown[];
}

/** A test that passed only when tried again counts as failed, and so does an error outside all tests. */
export const browserTotals = ({ stats, errors }: BrowserReport): Totals => ({
  passed: stats.expected,
  failed: stats.unexpected + stats.flaky + errors.length,
  skipped: stats.skipped,
});

/**
 * Totals of a run from the report it should have written.
 * A run that left no report, or ended badly although no test of it failed, counts as one failure.
 */
export function totalsOf<Report>(
  reportPath: string,
  exitCode: number,
  count: (report: Report) => Totals,
): Totals {
  if (!existsSync(reportPath)) return { passed: 0, failed: 1, skipped: 0 };
  const totals = count(JSON.parse(readFileSync(reportPath, 'utf8')) as Report);
  return exitCode !== 0 && totals.failed === 0 ? { ...totals, failed: 1 } : totals;
}

/** The closing line: `N passed, N failed`, and what was skipped if anything was. */
export const totalsLine = ({ passed, failed, skipped }: Totals): string =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;

/** True where something ran and nothing failed. */
export const isGreen = ({ passed, failed }: Totals): boolean => passed > 0 && failed === 0;
