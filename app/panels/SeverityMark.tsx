import type { Finding, Severity } from '../../src/index.ts';
import { words } from '../words.ts';
import './SeverityMark.css';

const RANK: Record<Severity, number> = { info: 0, warning: 1, error: 2 };

/** The gravest severity among findings; null where there are none. */
export const worstOf = (findings: readonly Finding[]): Severity | null =>
  findings.reduce<Severity | null>(
    (worst, { severity }) => (worst === null || RANK[severity] > RANK[worst] ? severity : worst),
    null,
  );

/** Severity as a word beside a mark of its own shape, so that colour is never all there is. */
export const SeverityMark = ({ severity }: { severity: Severity }) => (
  <span className="severity" data-severity={severity}>
    <svg viewBox="0 0 10 10" width="10" height="10" aria-hidden="true">
      {severity === 'error' ? (
        <path d="M5 0 10 5 5 10 0 5z" />
      ) : severity === 'warning' ? (
        <path d="M5 .5 10 9.5H0z" />
      ) : (
        <circle cx="5" cy="5" r="4" />
      )}
    </svg>
    {words.severity[severity]}
  </span>
);
