import { decodeCursor } from '../kernel/cursor.ts';
import { sql, Prisma } from './client.ts';

interface Column {
  column: Prisma.Sql;
  kind: 'string' | 'number';
}

/**
 * What a page of a sorted list adds to its statement: the value to sort by (for the cursor), where the page starts,
 * and the order. Columns must not hold nulls; rows that are equal in the column follow in the order of `id`.
 *
 * @example
 * const at = keyset({ sort: '-name', columns: { name: { column: sql`c."name"`, kind: 'string' } }, id: sql`c."id"`, after });
 * sql`select c."id", ${at.value} as "sortValue" from "customer" c where true ${at.start} order by ${at.order}`
 */
export function keyset<K extends string>({
  sort,
  columns,
  after,
  id,
}: {
  sort: K | `-${K}`;
  columns: Record<K, Column>;
  id: Prisma.Sql;
  after: string | undefined;
}): { value: Prisma.Sql; start: Prisma.Sql; order: Prisma.Sql } {
  const descending = sort.startsWith('-');
  const { column, kind } = columns[sort.replace(/^-/, '') as K];
  const direction = descending ? sql`desc` : sql`asc`;
  const cursor = decodeCursor(after, [kind, 'number']);
  return {
    value: column,
    start:
      cursor === null
        ? Prisma.empty
        : sql`and (${column}, ${id}) ${descending ? sql`<` : sql`>`} (${cursor[0]}, ${cursor[1]})`,
    order: sql`${column} ${direction}, ${id} ${direction}`,
  };
}

/**
 * The pattern for `ilike` that finds a text anywhere; what is special to `like` is taken literally.
 *
 * @example
 * containing('50%') // '%50\\%%'
 */
export const containing = (text: string): string => `%${text.replace(/[\\%_]/g, String.raw`\$&`)}%`;

/**
 * The patterns for {@link likeAny} that find a text in what grows with the years, by an index of three letters each. From three
 * letters on it is found anywhere. Of one or two letters it is found where a word begins, and of one or two digits also at
 * the end of a number with a zero before it, as people say numbers: nothing shorter could be found without reading everything.
 *
 * @example
 * indexedPatterns('0512') // ['%0512%']
 * indexedPatterns('51') // ['51%', '% 51%', '%051']
 */
export function indexedPatterns(text: string): string[] {
  const anywhere = containing(text);
  if ((text.match(/[\p{L}\p{N}]{3,}/u) ?? []).length > 0) return [anywhere];
  const start = anywhere.slice(1);
  return [start, `% ${start}`, ...(/^\d{1,2}$/.test(text) ? [`%${text.padStart(3, '0')}`] : [])];
}

/**
 * Whether a column is like one of some patterns, in a form that an index can serve.
 *
 * @example
 * likeAny(sql`l."number"`, indexedPatterns('L-0512'))
 */
export const likeAny = (column: Prisma.Sql, patterns: readonly string[]): Prisma.Sql =>
  sql`(${Prisma.join(
    patterns.map((pattern) => sql`${column} ilike ${pattern}`),
    ' or ',
  )})`;

/** The condition that keeps what is in use (`no`, the default), archived (`yes`), or both. */
export function whereArchived(column: Prisma.Sql, archived: 'no' | 'yes' | 'all' = 'no'): Prisma.Sql {
  if (archived === 'all') return Prisma.empty;
  return archived === 'yes' ? sql`and ${column} is not null` : sql`and ${column} is null`;
}
