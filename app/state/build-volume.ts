import type { PartView } from '../../src/index.ts';
import type { BenchState } from './bench-state.ts';
import { shownParts } from './parts.ts';

/** The part that the build volume is shown around: the one asked for while it is seen, else the one that fits least. */
export function partInBed(state: BenchState): PartView | null {
  const { bedShown, bedOf } = state.sitting;
  if (!bedShown) return null;
  const shown = shownParts(state);
  const asked = shown.find(({ id }) => id === bedOf);
  if (asked) return asked;
  return shown.reduce<PartView | null>(
    (least, part) => (least !== null && hardness(least) >= hardness(part) ? least : part),
    null,
  );
}

/** Greater where a part fits less well. */
const hardness = ({ bed }: PartView): number =>
  bed.fits === 'not' ? 1 + bed.overMm : bed.fits === 'turned' ? 1 : 0;
