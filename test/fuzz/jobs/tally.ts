import type { Outcome } from './run-job.ts';

/** The way the costliest of a report's joints went. */
function wayOf({ report }: Outcome): string {
  const ways = (report?.seams ?? []).flatMap(({ pegs }) => pegs.map(({ way }) => way));
  return (['kernel', 'collar', 'local'] as const).find((way) => ways.includes(way)) ?? 'no joint';
}

const ENDINGS = ['right', 'told', 'refused', 'false-alarm', 'failed'] as const;

/** Right, with a joint that was not the face's own affair. */
export const isSoundSolidJoint = (outcome: Outcome): boolean =>
  outcome.ending === 'right' && ['collar', 'kernel'].includes(wayOf(outcome));

/** Jobs by what they were about and how they ended, then the right ones by the way of their joints, and what was told in vain. */
export function tallyTable(outcomes: readonly Outcome[]): string {
  const line = (name: string, cells: readonly (string | number)[]) =>
    name.padEnd(14) + cells.map((cell) => String(cell).padStart(13)).join('');
  const rowOf = (name: string, of: readonly Outcome[]) =>
    line(name, [...ENDINGS.map((ending) => of.filter((one) => one.ending === ending).length), of.length]);
  const scenarios = [...new Set(outcomes.map(({ scenario }) => scenario))].sort();
  const lines = [
    line('', [...ENDINGS, 'jobs']),
    ...scenarios.map((name) =>
      rowOf(
        name,
        outcomes.filter(({ scenario }) => scenario === name),
      ),
    ),
    rowOf('all', outcomes),
    '',
    ...countLines(
      'right, by way of the joints',
      outcomes.filter(({ ending }) => ending === 'right').map(wayOf),
    ),
    ...countLines(
      'told',
      outcomes.filter(({ ending }) => ending === 'told').flatMap(({ details }) => details),
    ),
    ...countLines(
      'false alarms',
      outcomes.filter(({ ending }) => ending === 'false-alarm').flatMap(({ details }) => details),
    ),
    `sound collar or kernel joints: ${outcomes.filter(isSoundSolidJoint).length}`,
  ];
  return lines.join('\n');
}

function countLines(title: string, values: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const sorted = [...counts].sort(([, a], [, b]) => b - a);
  return [`${title}: ${sorted.map(([value, n]) => `${value} ${n}`).join(', ') || 'none'}`];
}
