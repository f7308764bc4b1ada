import type { FieldType, JobFault, JobRule } from '../../errors/job-fault.ts';
import type { UsageFault } from '../../errors/usage-fault.ts';
import { outlineFaultWords } from './outlines.ts';
import { count, numbers } from './speech.ts';

/** What is wrong with a job's field or with how a command was called. */

const TYPES: Record<FieldType, string> = {
  number: 'a number',
  text: 'a text',
  list: 'a list',
  fields: 'an object with fields',
  'yes-or-no': 'true or false',
};

const RULES: Record<JobRule, string> = {
  'no-direction': 'a normal needs a direction',
  'no-sweep': 'a sweep needs a direction',
  'one-body': 'a seam joins two different bodies',
  'neither-body': 'it is one of the two bodies that gives way',
  'no-turn': 'a turn is a quaternion of length 1',
  'id-shared': 'two seams share an id',
};

const oneOf = (known: readonly string[]): string =>
  `${known.length > 1 ? 'one of ' : ''}${known.map((one) => `“${one}”`).join(', ')}`;

/** To stand in brackets. */
export function jobFaultWords(fault: JobFault): string {
  switch (fault.is) {
    case 'missing':
      return 'it is missing';
    case 'type':
      return `it should be ${TYPES[fault.wanted]}`;
    case 'below':
      return `it should be ${fault.isIncluded ? 'at least' : 'more than'} ${numbers.short(fault.limit, 9)}`;
    case 'above':
      return `it should be ${fault.isIncluded ? 'at most' : 'less than'} ${numbers.short(fault.limit, 9)}`;
    case 'too-short':
      return `it should have at least ${counted(fault)}`;
    case 'too-long':
      return `it should have at most ${counted(fault)}`;
    case 'value':
      return `it should be ${oneOf(fault.known)}`;
    case 'keys-unknown':
      return `it has no field called ${fault.keys.map((key) => `“${key}”`).join(', ')}`;
    case 'none-of':
      return fault.each.map(jobFaultWords).join(', or ');
    case 'outline':
      return outlineFaultWords(fault.why);
    case 'other':
      return 'it is not as it should be';
    default:
      return RULES[fault.is];
  }
}

const counted = ({ limit, counted: what }: JobFault & { is: 'too-short' | 'too-long' }): string =>
  what === 'letters' ? count(limit, 'letter') : count(limit, 'entry', 'entries');

const VERBS =
  'use “inspect FILE…”, “section FILE --normal x,y,z --offset d” or “make JOB.json --out DIR”; “--help” tells more.';

const WANTED = {
  value: 'a value',
  number: 'a number',
  direction: 'three numbers x,y,z that are not all zero',
  folder: 'a folder for the parts',
};

/** A whole sentence. */
export function usageSentence(fault: UsageFault): string {
  switch (fault.is) {
    case 'verb-missing':
      return `a verb is missing; ${VERBS}`;
    case 'verb-unknown':
      return `“${fault.verb}” is no verb; ${VERBS}`;
    case 'no-file':
      return 'name at least one FILE, none is given.';
    case 'not-one-file':
      return `name exactly one ${fault.wanted === 'job' ? 'JOB.json' : 'FILE'}, ${fault.given} are given.`;
    case 'option-unknown':
      return `there is no option ${fault.option}; “--help” tells which there are.`;
    case 'value-missing':
      return `${fault.option} needs ${WANTED[fault.wanted]}.`;
    case 'value-unwanted':
      return `${fault.option} takes no value; leave out what follows it.`;
    case 'value-unknown':
      return `${fault.option} “${fault.value}” is not known; use ${fault.known.length > 1 ? 'one of ' : ''}${fault.known.join(', ')}.`;
  }
}
