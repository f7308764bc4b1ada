import { parseArgs } from 'node:util';
import { PegwrightError } from '../errors.ts';
import type { Vec3 } from '../math/vec3.ts';
import { UNITS, type Unit } from '../model/units.ts';

/** A refusal of how the command was called. */
export const badUsage = (reason: string): PegwrightError => new PegwrightError('usage', { reason });

type Options = NonNullable<Parameters<typeof parseArgs>[0]>['options'];

type Values = Record<string, string | boolean | undefined>;

/**
 * The one file a verb works on, and its options as strings.
 * @throws PegwrightError `usage` for unknown options or not exactly one file.
 */
export function readArguments(
  args: string[],
  options: NonNullable<Options>,
  fileLabel: string,
): { file: string; values: Values } {
  const { files, values } = parseFiles(args, options);
  if (files.length !== 1) throw badUsage(`name exactly one ${fileLabel}, ${files.length} are given.`);
  return { file: files[0], values };
}

/**
 * The files a verb works on together, at least one, and its options as strings.
 * @throws PegwrightError `usage` for unknown options or no file.
 */
export function readFilesArguments(
  args: string[],
  options: NonNullable<Options>,
): { files: string[]; values: Values } {
  const { files, values } = parseFiles(args, options);
  if (files.length === 0) throw badUsage('name at least one FILE, none is given.');
  return { files, values };
}

function parseFiles(args: string[], options: NonNullable<Options>): { files: string[]; values: Values } {
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({ args: joinNegatives(args), options, allowPositionals: true, strict: true });
  } catch (thrown) {
    throw badUsage(`${(thrown as Error).message.split('. ')[0]}; see the README for the options.`);
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
export function readUnit(value: string | boolean | undefined): Unit | undefined {
  if (value === undefined) return undefined;
  const unit = UNITS.find((known) => known === value);
  if (!unit) throw badUsage(`--unit “${value}” is not known; use one of ${UNITS.join(', ')}.`);
  return unit;
}

/** @throws PegwrightError `usage` */
export function readNumber(option: string, value: string | boolean | undefined): number {
  const number = typeof value === 'string' && value.trim() !== '' ? Number(value) : Number.NaN;
  if (!Number.isFinite(number)) throw badUsage(`--${option} needs a number.`);
  return number;
}

/** @throws PegwrightError `usage` */
export function readDirection(option: string, value: string | boolean | undefined): Vec3 {
  const parts = typeof value === 'string' ? value.split(',').map(Number) : [];
  if (parts.length !== 3 || !parts.every(Number.isFinite) || Math.hypot(...parts) < 1e-9) {
    throw badUsage(`--${option} needs three numbers x,y,z that are not all zero.`);
  }
  return [parts[0], parts[1], parts[2]];
}
