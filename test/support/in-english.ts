import { english } from '../../src/lexicon/english/index.ts';
import { lexiconOf } from '../../src/lexicon/lexicon.ts';

/** Everything as it is said in English. */
export const inEnglish = lexiconOf(english);
