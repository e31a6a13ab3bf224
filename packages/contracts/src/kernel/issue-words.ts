import type { z } from 'zod';

type RawIssue = Parameters<NonNullable<ReturnType<typeof z.config>['customError']>>[0];

const kinds: Readonly<Record<string, string>> = {
  string: 'must be text',
  number: 'must be a number',
  int: 'must be a whole number',
  boolean: 'must be yes or no (true or false)',
  array: 'must be a list',
  object: 'must be an object',
  record: 'must be an object',
};

const formats: Readonly<Record<string, string>> = {
  email: 'must be an e-mail address, such as name@example.org',
  date: 'must be a date, such as 2026-03-31',
  datetime: 'must be a time, such as 2026-03-31T09:30:00Z',
  url: 'must be a web address, such as https://example.org',
  uuid: 'must be a UUID',
};

/** How many decimals a step of a power of ten leaves: 0.001 leaves 3. */
const decimalsOf = (step: number) => Math.round(-Math.log10(step));

function sizeWords(bound: string, size: number, origin: string): string {
  if (origin === 'string') return `must have ${bound} ${size} ${size === 1 ? 'character' : 'characters'}`;
  if (origin === 'array' || origin === 'set')
    return `must have ${bound} ${size} ${size === 1 ? 'entry' : 'entries'}`;
  return `must be ${bound} ${size}`;
}

/**
 * What is wrong with a value, as it stands beside its field: begins with the verb, says what is allowed, and names no type of a
 * programming language.
 *
 * @example
 * issueWords({ code: 'too_big', origin: 'number', maximum: 100, inclusive: true, … }) // 'must be at most 100'
 */
export function issueWords(issue: RawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === null || issue.input === undefined) return 'must be filled in';
      return kinds[issue.expected] ?? 'has the wrong kind of value';
    case 'too_big': {
      const bound = issue.exact ? 'exactly' : issue.inclusive === false ? 'less than' : 'at most';
      return sizeWords(bound, Number(issue.maximum), issue.origin);
    }
    case 'too_small': {
      const least = Number(issue.minimum);
      if (issue.origin === 'string' && least === 1) return 'must be filled in';
      if (issue.origin === 'array' && least === 1) return 'must have at least one entry';
      const bound = issue.exact ? 'exactly' : issue.inclusive === false ? 'more than' : 'at least';
      return sizeWords(bound, least, issue.origin);
    }
    case 'invalid_value':
      return issue.values.length === 1
        ? `must be ${String(issue.values[0])}`
        : `must be one of ${issue.values.map(String).join(', ')}`;
    case 'invalid_format':
      return formats[issue.format] ?? 'is not in the required form';
    case 'not_multiple_of': {
      const decimals = decimalsOf(Number(issue.divisor));
      return 10 ** -decimals === Number(issue.divisor)
        ? `may have at most ${decimals} decimals`
        : `must be a multiple of ${issue.divisor}`;
    }
    case 'unrecognized_keys':
      return `has unknown fields: ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return 'has none of the allowed forms';
    default:
      return 'is not allowed';
  }
}
