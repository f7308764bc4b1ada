import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import type { Finding, FindingCode } from '../../src/check/finding.ts';
import type { ErrorCode, ErrorRecord } from '../../src/errors.ts';
import { inEnglish } from '../support/in-english.ts';
import type { CodeCase } from './code-case.ts';

/**
 * Every code that can be told has a case in which it comes, and one close by in which it does not; and whatever is
 * told on the way makes a sentence.
 */

/** Each finding and refusal that was made, kept as it is made. */
const made = vi.hoisted(() => ({ findings: [] as Finding[], refusals: [] as ErrorRecord[] }));

vi.mock('../../src/check/finding.ts', async (load) => {
  const actual = await load<typeof import('../../src/check/finding.ts')>();
  const finding: typeof actual.finding = (...facts) => {
    const one = actual.finding(...facts);
    made.findings.push(one);
    return one;
  };
  return { ...actual, finding };
});

vi.mock('../../src/errors.ts', async (load) => {
  const actual = await load<typeof import('../../src/errors.ts')>();
  class PegwrightError<C extends ErrorCode> extends actual.PegwrightError<C> {
    constructor(...[code, facts]: ConstructorParameters<typeof actual.PegwrightError<C>>) {
      super(code, facts);
      made.refusals.push(actual.toErrorRecord(this));
    }
  }
  return { ...actual, PegwrightError };
});

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

/** Facts that are somebody else's: names of files and parts, texts of a file, what the system or the kernel says. */
const NAMES = ['file', 'input', 'needs', 'part', 'name', 'path', 'text', 'words'];

/** All texts within facts but those. */
function textsIn(facts: unknown): string[] {
  if (typeof facts === 'string') return [facts];
  if (typeof facts !== 'object' || facts === null) return [];
  return Object.entries(facts).flatMap(([key, fact]) => (NAMES.includes(key) ? [] : textsIn(fact)));
}

describe('what the cases were told', () => {
  const missing = (cases: CodeCase<string>[], told: { code: string }[]) =>
    cases.filter(({ code }) => !told.some((one) => one.code === code)).map(({ code }) => code);

  it('has all been kept', () => {
    expect(missing(findings, made.findings)).toEqual([]);
    // A worker that died throws nothing: what is told of it is made as a plain record.
    expect(missing(refusals, made.refusals)).toEqual(['kernel-lost']);
  });

  it('holds codes, numbers and names, and never words for people', () => {
    const words = [...made.findings, ...made.refusals].flatMap(({ code, facts }) =>
      textsIn(facts).map((text) => `${code}: ${text}`),
    );
    expect(words.filter((text) => /: .*\s/.test(text))).toEqual([]);
  });

  it('is one line of words each, closed by a stop, and lacks no fact', () => {
    const sentences = [
      ...made.findings.map((one) => inEnglish.finding(one)),
      ...made.refusals.map((one) => inEnglish.refusal(one)),
    ];
    for (const sentence of sentences) {
      expect(sentence).toMatch(/^\S.*[^\s.]\.$/);
      expect(sentence).not.toMatch(/undefined|null|NaN|Infinity|\[object|\$\{/);
    }
  });
});
