import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FindingCode } from '../../src/check/finding.ts';
import type { ErrorCode } from '../../src/errors.ts';
import type { CodeCase } from './code-case.ts';

/** Every code that can be told has a case in which it comes, and one close by in which it does not. */

interface Cases {
  FINDING_CASES?: CodeCase<FindingCode>[];
  REFUSAL_CASES?: CodeCase<ErrorCode>[];
}

const files = Object.values(import.meta.glob<Cases>('./*.cases.ts', { eager: true }));
const findings = files.flatMap(({ FINDING_CASES = [] }) => FINDING_CASES);
const refusals = files.flatMap(({ REFUSAL_CASES = [] }) => REFUSAL_CASES);

/** The keys of an interface, as its source has them. */
function keysOf(name: string, path: string): string[] {
  const source = readFileSync(resolve(import.meta.dirname, '../..', path), 'utf8');
  const body = source.split(`export interface ${name} {\n`)[1]?.split('\n}\n')[0] ?? '';
  return [...body.matchAll(/^ {2}'?([a-z][a-z-]*)'?:/gm)].map(([, key]) => key);
}

describe('the list of codes', () => {
  it('has a case for each finding and each refusal', () => {
    const found = keysOf('FindingFacts', 'src/check/finding.ts');
    const refused = keysOf('ErrorFacts', 'src/errors.ts');
    expect([found.length > 30, refused.length > 30]).toEqual([true, true]);
    expect(found.filter((code) => !findings.some((one) => one.code === code))).toEqual([]);
    expect(refused.filter((code) => !refusals.some((one) => one.code === code))).toEqual([]);
  });
});

describe.each([
  ['finding', findings],
  ['refusal', refusals],
])('the %s', (_, cases) => {
  it.each(cases as CodeCase<string>[])(
    '$code comes where it should, and not close by',
    async ({ code, comes, stays }) => {
      expect(await comes()).toContain(code);
      expect(await stays()).not.toContain(code);
    },
  );
});
