import { draftOfTaper } from '../../src/index.ts';
import { readNumber } from './read-number.ts';

/**
 * A draft per side in degrees as people type it: as an angle, or as the taper of the whole, 1:x; null for neither.
 * A colon is never a quotient here: 2:10 is the taper 1:5, not a fifth of a degree.
 */
export function readTaper(text: string): number | null {
  const terms = text.normalize('NFKC').split(':');
  if (terms.length === 1) return readNumber(text, '°');
  const [across, along] = terms.map((term) => readNumber(term, ''));
  if (terms.length > 2 || across === null || along === null) return null;
  return across > 0 && along > 0 ? draftOfTaper(along / across) : null;
}
