/**
 * The value at a dotted path, as problems name fields.
 *
 * @example
 * valueAt({ lines: [{ quantity: 4 }] }, 'lines.0.quantity') // 4
 */
export function valueAt(root: unknown, path: string): unknown {
  let at = root;
  for (const key of path === '' ? [] : path.split('.')) {
    if (at === null || typeof at !== 'object' || !Object.hasOwn(at, key)) return undefined;
    at = (at as Record<string, unknown>)[key];
  }
  return at;
}

/** Whether two values are the same as far as JSON can tell. */
export const sameValue = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

export interface Difference {
  path: string;
  mine: unknown;
  theirs: unknown;
}

/**
 * Where two sets of values differ, leaf by leaf. A list of another length is one difference.
 *
 * @example
 * differences({ name: 'A', terms: { days: 30 } }, { name: 'A', terms: { days: 14 } })
 * // [{ path: 'terms.days', mine: 30, theirs: 14 }]
 */
export function differences(mine: unknown, theirs: unknown, path = ''): Difference[] {
  if (sameValue(mine, theirs)) return [];
  if (!isNested(mine) || !isNested(theirs) || lengthOf(mine) !== lengthOf(theirs)) {
    return [{ path, mine, theirs }];
  }
  const keys = new Set([...Object.keys(mine), ...Object.keys(theirs)]);
  return [...keys].flatMap((key) =>
    differences(mine[key], theirs[key], path === '' ? key : `${path}.${key}`),
  );
}

const isNested = (value: unknown): value is Record<string, unknown> =>
  value !== null && typeof value === 'object';
const lengthOf = (value: object) => (Array.isArray(value) ? value.length : -1);
