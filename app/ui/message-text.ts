import type { Message } from '../state/bench-state.ts';
import { lexicon } from '../words.ts';
import { namesIn } from './names.ts';

/** A message in words. */
export const messageText = ({ said, job }: Message): string => lexicon.say(said, namesIn(job));
