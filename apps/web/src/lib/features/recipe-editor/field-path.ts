import type { FieldIssue } from '@huelot/contracts';

/** What a form hands down to the fields of its steps: the name and fault of each, by path. */
export type FieldOf = (path: string) => { name: string; error: string | undefined };

/** Which step a path leads into, or null. */
export function stepOf(path: string): number | null {
  const found = /^steps\.(\d+)/.exec(path)?.[1];
  return found === undefined ? null : Number(found);
}

/**
 * The name of a field that is not on the screen just now.
 *
 * @example
 * nameOfPath('steps.2.durationS') // 'Step 3, duration s'
 */
export function nameOfPath(path: string): string {
  const at = stepOf(path);
  if (at === null) return path;
  const rest = path
    .split('.')
    .slice(2)
    .map((part) =>
      /^\d+$/.test(part) ? String(Number(part) + 1) : part.replace(/([A-Z])/g, ' $1').toLowerCase(),
    )
    .join(' ');
  return rest === '' ? `Step ${at + 1}` : `Step ${at + 1}, ${rest}`;
}

/** How many fields of a step are wrong; a field may be wrong in two ways. */
export const faultsOf = (issues: readonly FieldIssue[], at: number): number =>
  new Set(issues.filter(({ path }) => stepOf(path) === at).map(({ path }) => path)).size;
