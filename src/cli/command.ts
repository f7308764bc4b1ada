import { PegwrightError, toErrorRecord } from '../errors.ts';
import { lexicon } from './lexicon.ts';

/**
 * The command line: JSON on standard output, progress on standard error.
 * Exit 0: done. 1: done, with a finding of severity error. 2: bad input or usage, one line
 * on standard error and nothing written. Each verb loads only what it needs.
 */

async function run([verb, ...args]: readonly string[]): Promise<number> {
  if (wantsHelp(verb, args)) return (await import('./help.ts')).help(verb === 'help' ? args[0] : verb);
  switch (verb) {
    case 'inspect':
      return (await import('./inspect.ts')).inspect(args);
    case 'section':
      return (await import('./section.ts')).section(args);
    case 'make':
      return (await import('./make.ts')).make(args);
    default:
      throw new PegwrightError('usage', {
        fault: verb ? { is: 'verb-unknown', verb } : { is: 'verb-missing' },
      });
  }
}

const wantsHelp = (verb: string | undefined, args: readonly string[]): boolean =>
  verb === 'help' || [verb, ...args].some((arg) => arg === '--help' || arg === '-h');

/** Runs the command with its arguments, complaining on standard error. @returns the exit code. */
export async function command(args: readonly string[]): Promise<number> {
  try {
    return await run(args);
  } catch (thrown) {
    const about = thrown instanceof PegwrightError && thrown.about ? `${thrown.about}: ` : '';
    process.stderr.write(
      `pegwright: ${about}${lexicon.refusal(toErrorRecord(thrown)).replaceAll('\n', ' ')}\n`,
    );
    return 2;
  }
}
