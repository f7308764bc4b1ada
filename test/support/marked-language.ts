import { english } from '../../src/lexicon/english/index.ts';
import type { Language } from '../../src/lexicon/language.ts';
import { numbersWith } from '../../src/lexicon/numbers.ts';

/**
 * A second language for tests: English with every letter replaced by its like at full width, and a decimal comma. Whatever
 * is read in plain letters where this is spoken did not come from the lexicon.
 */

const FULL_WIDTH = 0xff01 - 0x21;

const wide = (text: string): string =>
  text.replace(/[A-Za-z]/g, (letter) => String.fromCodePoint(letter.charCodeAt(0) + FULL_WIDTH));

/** Signs of units are no words of a language. */
const UNITS = /(?<![A-Za-z])(mm|cm|µm)(?![A-Za-z])/;

const mark = (text: string): string =>
  text
    .split(UNITS)
    .map((piece, i) => (i % 2 === 1 ? piece : wide(piece)))
    .join('')
    .replace(/(\d)\.(?=\d)/g, '$1,');

/** All that can be said, marked as it is said. */
function marked<T>(said: T): T {
  if (typeof said === 'string') return mark(said) as T;
  if (typeof said === 'function') return ((...facts: unknown[]) => marked(said(...facts))) as T;
  if (Array.isArray(said)) return said.map(marked) as T;
  if (typeof said !== 'object' || said === null) return said;
  return Object.fromEntries(Object.entries(said).map(([key, one]) => [key, marked(one)])) as T;
}

export const markedLanguage: Language = {
  ...marked(english),
  tag: 'de-AT',
  numbers: numbersWith({ decimal: ',', group: '’' }),
};

/** Words in a text that are not of the marked language; units' signs are of every one. */
export const unmarkedIn = (text: string): string[] =>
  text.match(/[A-Za-z]{2,}/g)?.filter((word) => !/^(mm|cm|µm)$/.test(word)) ?? [];
