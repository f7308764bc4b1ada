import type { Finding } from './finding.ts';

/** What was told of a sculpt on opening, but what its job has done away with. */
export const stillStanding = (
  ofSculpt: readonly Finding[],
  { overlapsNested }: { overlapsNested: boolean },
): Finding[] => ofSculpt.filter(({ code }) => !(overlapsNested && code === 'shells-overlap'));
