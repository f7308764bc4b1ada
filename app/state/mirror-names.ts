import { partId, type Seam, type Side, undivided } from '../../src/index.ts';
import { words } from '../words.ts';
import type { BenchState } from './bench-state.ts';
import { treeOf } from './parts.ts';

/**
 * Names for the two parts of a seam's mirror image, which divides the part `of`: left and right change places in those of the seam's own. Where the
 * image divides what the seam left over, what both leave over lies between them. A name that another part has already is
 * numbered.
 */
export function mirroredNames(state: BenchState, { id: seamId, names }: Seam, of: string): Seam['names'] {
  const nameOf = (side: Side) => {
    const isBetween = of === partId({ of: 'seam', seamId, side });
    return isBetween ? words.nameBetween(names[side]) : words.mirroredName(names[side]);
  };
  // The part that it divides is one no longer, and its name is free.
  const taken = undivided(treeOf(state).root).flatMap(({ id, name }) => (id === of || !name ? [] : [name]));
  const front = untaken(nameOf('front'), taken);
  return { front, back: untaken(nameOf('back'), [...taken, front]) };
}

/** The name, or with the first number from 2 on that makes it another than those there are. */
function untaken(name: string, taken: readonly string[]): string {
  if (!taken.includes(name)) return name;
  for (let n = 2; ; n++) {
    const numbered = words.numberedName(name, n);
    if (!taken.includes(numbered)) return numbered;
  }
}
