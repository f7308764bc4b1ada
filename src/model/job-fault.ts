import type { core } from 'zod';
import type { FieldType, JobFault, JobRule } from '../errors/job-fault.ts';
import type { OutlineFault } from '../errors/outline-fault.ts';

/** What a schema is told of a rule, so that a breach of it is known by it. */
export const rule = (is: JobRule) => ({ params: { rule: is } });

const TYPES: Readonly<Record<string, FieldType>> = {
  number: 'number',
  int: 'number',
  string: 'text',
  array: 'list',
  tuple: 'list',
  object: 'fields',
  record: 'fields',
  boolean: 'yes-or-no',
};

/** What the schema has against a document, as a code with facts. */
export function jobFault(issue: core.$ZodIssue, json: unknown): JobFault {
  if (valueAt(json, issue.path) === undefined) return { is: 'missing' };
  switch (issue.code) {
    case 'invalid_type': {
      const wanted = TYPES[issue.expected];
      return wanted ? { is: 'type', wanted } : { is: 'other' };
    }
    case 'too_small':
      return boundFault(issue, ['below', 'too-short'], issue.minimum);
    case 'too_big':
      return boundFault(issue, ['above', 'too-long'], issue.maximum);
    case 'invalid_value':
      return { is: 'value', known: issue.values.map(String) };
    case 'unrecognized_keys':
      return { is: 'keys-unknown', keys: issue.keys };
    case 'invalid_union':
      return unionFault(issue, valueAt(json, issue.path));
    case 'custom':
      if (issue.params?.outline) return { is: 'outline', why: issue.params.outline as OutlineFault };
      return issue.params?.rule ? { is: issue.params.rule as JobRule } : { is: 'other' };
    default:
      return { is: 'other' };
  }
}

function boundFault(
  { origin, inclusive }: { origin: string; inclusive?: boolean },
  [ofNumber, ofLength]: readonly ['below', 'too-short'] | readonly ['above', 'too-long'],
  bound: number | bigint,
): JobFault {
  const limit = Number(bound);
  if (origin === 'number' || origin === 'int')
    return { is: ofNumber, limit, isIncluded: inclusive !== false };
  return { is: ofLength, limit, counted: origin === 'string' ? 'letters' : 'entries' };
}

/** A field that chooses among kinds by a word, or one that may have several types. */
function unionFault(issue: core.$ZodIssueInvalidUnion, value: unknown): JobFault {
  if ('options' in issue && Array.isArray(issue.options))
    return { is: 'value', known: issue.options.map(String) };
  const each = issue.errors.flatMap(([first]) => (first ? [jobFault(first, value)] : []));
  return each.length > 0 ? { is: 'none-of', each } : { is: 'other' };
}

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce((at, key) => (at as Record<PropertyKey, unknown> | null | undefined)?.[key], json);
}
