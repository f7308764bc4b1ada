import { lexiconFor } from '../src/index.ts';

/** The page's language: the first of those the browser is set to that there is. */
export const lexicon = lexiconFor(globalThis.navigator?.languages ?? []);

export const { page: words, drawings: drawingWords } = lexicon;
export const { numeral, short: shortNumeral, typed: typedNumeral } = lexicon.numbers;
