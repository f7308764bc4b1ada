import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fileFaults } from '../../src/lexicon/english/file-faults.ts';
import { english } from '../../src/lexicon/english/index.ts';
import type { Language } from '../../src/lexicon/language.ts';
import { languageFor, lexiconOf } from '../../src/lexicon/lexicon.ts';
import { notice } from '../../src/lexicon/notice.ts';
import { markedLanguage, unmarkedIn } from '../support/marked-language.ts';

/** Facts that are there whatever they are asked for. */
const facts: Record<string, unknown> = new Proxy({}, { get: () => 2 });

const sourcesOf = (folder: string): string =>
  readdirSync(resolve(folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => readFileSync(resolve(folder, name), 'utf8'))
    .join('\n');

describe('English', () => {
  it('has a line for everything that readers find wrong in files', () => {
    const lines = Object.values(fileFaults).map((fault) => fault(facts as never));
    expect(lines.length).toBeGreaterThan(70);
    for (const line of lines) expect(line).toMatch(/^\S.{8,}[^.]$/);
    expect(new Set(lines).size).toBe(lines.length);
  });

  it('has no words that nobody asks for', () => {
    const app = sourcesOf('app');
    const unused = [
      ...Object.keys(english.page).filter((key) => !new RegExp(`\\bwords\\.${key}\\b`).test(app)),
      ...Object.keys(english.drawings).filter((key) => !new RegExp(`\\bdrawingWords\\.${key}\\b`).test(app)),
      ...Object.keys(english.notices).filter((code) => !app.includes(`'${code}'`)),
    ];
    expect(unused).toEqual([]);
  });
});

describe('a language that lacks something', () => {
  it('does not compile', () => {
    const { 'seam-misses': misses, ...refusals } = english.refusals;
    const { perimeter, ...page } = english.page;
    const lacking: Language[] = [
      // @ts-expect-error A sentence is missing.
      { ...english, refusals },
      // @ts-expect-error A word is missing.
      { ...english, page },
      // @ts-expect-error A sentence asks for a fact that there is not.
      { ...english, refusals: { ...refusals, 'seam-misses': ({ seam }) => seam } },
      { ...english, refusals: { ...refusals, 'seam-misses': misses }, page: { ...page, perimeter } },
    ];
    expect(lacking).toHaveLength(4);
  });
});

describe('the language that is spoken', () => {
  const languages = [english, markedLanguage];
  it.each([
    ['of a browser, in its order', ['fr', 'de-CH', 'en'], markedLanguage],
    ['of a browser that asks for none there is', ['fr', 'tlh'], english],
    ['of a locale with its country and encoding', ['de_DE.UTF-8'], markedLanguage],
    ['of a locale with a modifier', ['de@euro'], markedLanguage],
    ['of the locale without a language', ['C'], english],
    ['where none is set', [''], english],
  ])('is that %s', (_, wanted, language) => {
    expect(languageFor(wanted, languages)).toBe(language);
  });

  it('says a refusal within a notice itself', () => {
    const why = { code: 'file-empty', facts: { file: '1-2' } } as const;
    const told = lexiconOf(markedLanguage).say(notice('kept-unopened', { why }));
    expect(told).toContain('1-2');
    expect(unmarkedIn(told)).toEqual([]);
    expect(lexiconOf(english).say(notice('kept-unopened', { why }))).toMatch(/1-2: the file is empty/);
  });
});
