import { parseArgs } from 'node:util';
import { PegwrightError } from '../errors.ts';
import type { Vec3 } from '../math/vec3.ts';
import { UNITS, type Unit } from '../model/units.ts';

/** A refusal of how the command was called. */
export const badUsage = (reason: string): PegwrightError => new PegwrightError('usage', { reason });

type Options = NonNullable<Parameters<typeof parseArgs>[0]>['options'];

/**
 * The one file a verb works on, and its options as strings.
 * @throws PegwrightError `usage` for unknown options or not exactly one file.
 */
export function readArguments(
  args: string[],
  options: NonNullable<Options>,
  fileLabel: string,
): { file: string; values: Record<string, string | boolean | undefined> } {
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({ args: joinNegatives(args), options, allowPositionals: true, strict: true });
  } catch (thrown) {
    throw badUsage(`${(thrown as Error).message.split('. ')[0]}; see the README for the options.`);
  }
  if (parsed.positionals.length !== 1) {
    throw badUsage(`name exactly one ${fileLabel}, ${parsed.positionals.length} are given.`);
  }
  return {
    file: parsed.positionals[0],
    values: parsed.values as Record<string, string | boolean | undefined>,
  };
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

/** @throws PegwrightError `usage` */
export function readUnit(value: string | boolean | undefined): Unit {
  if (value === undefined) return 'mm';
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
