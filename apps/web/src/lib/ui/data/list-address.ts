/**
 * The address of the same list asked another way. An empty value leaves the address; a cursor never stays, since it
 * belongs to the old question.
 *
 * @example
 * withQuery(new URL('http://x/parts?search=ring'), { sort: '-number' }) // '/parts?search=ring&sort=-number'
 */
export function withQuery(url: URL, changes: Record<string, string | null>): string {
  const query = new URLSearchParams(url.searchParams);
  query.delete('after');
  for (const [name, value] of Object.entries(changes)) {
    if (value === null || value === '') query.delete(name);
    else query.set(name, value);
  }
  const text = query.toString();
  return `${url.pathname}${text === '' ? '' : `?${text}`}`;
}

/**
 * The next order of a column that is sorted by `key` upwards and `-key` downwards.
 *
 * @example
 * nextSort('name', 'name') // '-name'
 * nextSort('name', 'due') // 'name'
 */
export function nextSort(key: string, current: string | null): string {
  return current === key ? `-${key}` : key;
}

/** How a column stands, as `aria-sort` says it. */
export function sortState(key: string, current: string | null): 'ascending' | 'descending' | 'none' {
  if (current === key) return 'ascending';
  return current === `-${key}` ? 'descending' : 'none';
}
