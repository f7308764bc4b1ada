import { PART_FORMATS } from '../io/writers.ts';
import { lexicon } from './lexicon.ts';

/** Prints how one verb is called, or all of them where it names none: the one thing on standard output that is no JSON. @returns the exit code */
export function help(verb: string | undefined): number {
  const { exits } = lexicon.terminal;
  const verbs = lexicon.terminal.verbs(PART_FORMATS.map(({ id }) => id));
  const asked = Object.entries(verbs).find(([name]) => name === verb);
  const calls = asked ? asked[1] : Object.values(verbs).join('\n\n');
  process.stdout.write(`pegwright ${calls.replaceAll('\n\n', '\n\npegwright ')}\n\n${exits}\n`);
  return 0;
}
