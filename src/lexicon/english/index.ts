import type { Language } from '../language.ts';
import { drawings } from './drawings.ts';
import { findings } from './findings.ts';
import { notices } from './notices.ts';
import { page } from './page.ts';
import { refusals } from './refusals.ts';
import { defects, repairs } from './repairs.ts';
import { numbers } from './speech.ts';
import { terminal } from './terminal.ts';

/** English, as it is written in Britain. */
export const english: Language = {
  tag: 'en-GB',
  numbers,
  refusals,
  findings,
  repairs,
  defects,
  notices,
  page,
  drawings,
  terminal,
};
