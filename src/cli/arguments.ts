import { parseArgs } from 'node:util';
import type { UsageFault } from '../errors/usage-fault.ts';
import { PegwrightError } from '../errors.ts';
import type { Vec3 } from '../math/vec3.ts';
import { UNITS, type Unit } from '../model/units.ts';

/** A refusal of how the command was called. */
export const badUsage = (fault: UsageFault): PegwrightError => new PegwrightError('usage', { fault });

type Options = NonNullable<NonNullable<Parameters<typeof parseArgs>[0]>['options']>;

type Value = string | boolean | undefined;
type Values = Record<string, Value>;

/**
 * The one file a verb works on, and its options as strings.
 * @throws PegwrightError `usage` for unknown options or not exactly one file.
 */
export function readArguments(
  args: string[],
  options: Options,
  wanted: 'mesh' | 'job',
): { file: string; values: Values } {
  const { files, values } = parseFiles(args, options);
  if (files.length !== 1) throw badUsage({ is: 'not-one-file', wanted, given: files.length });
  return { file: files[0], values };
}

/**
 * The files a verb works on together, at least one, and its options as strings.
 * @throws PegwrightError `usage` for unknown options or no file.
 */
export function readFilesArguments(args: string[], options: Options): { files: string[]; values: Values } {
  const { files, values } = parseFiles(args, options);
  if (files.length === 0) throw badUsage({ is: 'no-file' });
  return { files, values };
}

/** Not strict: what is wrong with an option is told as a code, not in the parser's own words. */
function parseFiles(args: string[], options: Options): { files: string[]; values: Values } {
  const parsed = parseArgs({
    args: joinNegatives(args),
    options,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  for (const token of parsed.tokens) {
    if (token.kind !== 'option') continue;
    const option = token.rawName;
    const type = Object.hasOwn(options, token.name) ? options[token.name].type : null;
    if (type === null) throw badUsage({ is: 'option-unknown', option });
    if (type === 'boolean' && token.value !== undefined) throw badUsage({ is: 'value-unwanted', option });
    // What looks like an option is one, and leaves the one before it without a value.
    const isBare = token.value === undefined || (!token.inlineValue && /^-./.test(token.value));
    if (type === 'string' && isBare) throw badUsage({ is: 'value-missing', option, wanted: 'value' });
  }
  return { files: parsed.positionals, values: parsed.values as Values };
}

/** “--offset -3” means the number, not another option. */
function joinNegatives(args: string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const last = joined.at(-1);
    if (/^-[\d.]/.test(arg) && last?.startsWith('--') && !last.includes('='))
      joined[joined.length - 1] = `${last}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

/** The unit asked for, undefined where none is. @throws PegwrightError `usage` */
export const readUnit = (value: Value): Unit | undefined => readChoice('unit', value, UNITS);

/** The one of several words that an option has, undefined where it is left out. @throws PegwrightError `usage` */
export function readChoice<K extends string>(
  option: string,
  value: Value,
  known: readonly K[],
): K | undefined {
  const chosen = known.find((one) => one === value);
  if (value !== undefined && chosen === undefined)
    throw badUsage({ is: 'value-unknown', option: `--${option}`, value: String(value), known });
  return chosen;
}

/** @throws PegwrightError `usage` */
export function readNumber(option: string, value: Value): number {
  const number = typeof value === 'string' && value.trim() !== '' ? Number(value) : Number.NaN;
  if (!Number.isFinite(number))
    throw badUsage({ is: 'value-missing', option: `--${option}`, wanted: 'number' });
  return number;
}

/** @throws PegwrightError `usage` */
export function readDirection(option: string, value: Value): Vec3 {
  const parts = typeof value === 'string' ? value.split(',').map(Number) : [];
  if (parts.length !== 3 || !parts.every(Number.isFinite) || Math.hypot(...parts) < 1e-9) {
    throw badUsage({ is: 'value-missing', option: `--${option}`, wanted: 'direction' });
  }
  return [parts[0], parts[1], parts[2]];
}
