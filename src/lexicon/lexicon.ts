import type { Finding } from '../check/finding.ts';
import type { ErrorRecord } from '../errors.ts';
import type { Defect } from '../mend/report/health.ts';
import type { Repair } from '../mend/report/repair.ts';
import { english } from './english/index.ts';
import type { FindingPlace, Language } from './language.ts';
import { AS_WRITTEN, type Names } from './names.ts';
import type { Notice, Said } from './notice.ts';

/** The languages there are. */
const LANGUAGES: readonly Language[] = [english];

/** A language as it is spoken: whatever a person reads comes from here. */
export interface Lexicon extends Pick<Language, 'tag' | 'numbers' | 'page' | 'drawings' | 'terminal'> {
  /** One sentence for a refusal. */
  refusal(error: ErrorRecord, names?: Names): string;
  /** One sentence for a finding. */
  finding(finding: Finding, names?: Names): string;
  /** One sentence for a change made by mending. */
  repair(repair: Repair): string;
  /** One sentence for a kind of defect found in a figure's health. */
  defect(defect: Pick<Defect, 'kind' | 'count'>): string;
  /** A notice, or a refusal. */
  say(said: Said, names?: Names): string;
}

/** What looks a code up has its facts, though the types cannot tell. */
type Sentence<Facts, With = void> = (facts: Facts, saidWith: With) => string;

export function lexiconOf(language: Language): Lexicon {
  const { refusals, findings, repairs, defects, notices, ...words } = language;
  const refusal = (error: ErrorRecord, names = AS_WRITTEN) =>
    (refusals[error.code] as Sentence<ErrorRecord['facts'], Names>)(error.facts, names);
  const say = (said: Said, names = AS_WRITTEN): string =>
    said.code in notices
      ? (notices[said.code as Notice['code']] as Sentence<Said['facts'], typeof say>)(said.facts, (quoted) =>
          say(quoted, names),
        )
      : refusal(said as ErrorRecord, names);
  return {
    ...words,
    refusal,
    finding: ({ code, facts, pegIndex }, names = AS_WRITTEN) =>
      (findings[code] as Sentence<Finding['facts'], FindingPlace>)(facts, {
        peg: pegIndex === undefined ? null : pegIndex + 1,
        names,
      }),
    repair: (repair) => repairs[repair.code](repair),
    defect: ({ kind, count }) => defects[kind](count),
    say,
  };
}

/**
 * Of some languages the one to speak to somebody who asks for others, the dearest first: by BCP 47 tags, or as POSIX
 * locales name them. "C" and "POSIX" ask for none; where none is there that is asked for, the first is spoken.
 */
export function languageFor(wanted: readonly string[], languages: readonly Language[]): Language {
  const firstPart = (tag: string) => tag.split(/[-_.@]/)[0]!.toLowerCase();
  const spoken = wanted.flatMap(
    (tag) => languages.find((one) => firstPart(one.tag) === firstPart(tag)) ?? [],
  );
  return spoken[0] ?? languages[0]!;
}

export const lexiconFor = (wanted: readonly string[]): Lexicon => lexiconOf(languageFor(wanted, LANGUAGES));
