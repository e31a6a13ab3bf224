import { capitalise } from './format/capitalise.ts';
import { fieldLabel } from './format/field-label.ts';
import type { ApiProblem } from './problem.ts';

/**
 * The place of a value as people say it: `lines.0.customerOrderNumber` as `line 1, customer order number`.
 *
 * @example
 * pathWords('features.2.count') // 'feature 3, count'
 */
export function pathWords(path: string): string {
  return path
    .split('.')
    .map((part) => (/^\d+$/.test(part) ? String(Number(part) + 1) : fieldLabel(part).label))
    .join(', ')
    .replace(/ies, (\d+)/g, 'y $1')
    .replace(/s?, (\d+)/g, ' $1');
}

/**
 * Why something was refused, in sentences for where the fields themselves are not on the screen: never a path, never a type.
 *
 * @example
 * problemSentences(problem) // ['Customer order number must be filled in.']
 */
export function problemSentences({
  detail,
  issues,
  code,
}: Pick<ApiProblem, 'detail' | 'issues' | 'code'>): string[] {
  const named = issues.filter(({ path }) => path !== '');
  if (code !== 'invalid-input' || named.length === 0) return [detail];
  return named.map(({ path, message }) => issueSentence(pathWords(path), message));
}

/** A message that goes on from the name of its field stands behind it; one that is a sentence itself stands alone. */
export function issueSentence(name: string, message: string): string {
  const stop = /[.!?]$/.test(message) ? '' : '.';
  return /^\p{Lu}/u.test(message) ? `${message}${stop}` : `${capitalise(name)} ${message}${stop}`;
}
