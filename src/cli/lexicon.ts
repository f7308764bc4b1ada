import { lexiconFor } from '../lexicon/lexicon.ts';

/** The terminal's language: the first that the person's locale asks for (POSIX.1-2017, §8.2) and there is. */
const { LC_ALL, LC_MESSAGES, LANG } = process.env;
export const lexicon = lexiconFor([LC_ALL || LC_MESSAGES || LANG || '']);
