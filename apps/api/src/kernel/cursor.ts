import { DomainError } from './refusal.ts';

/** The cursor of a page: the sort values of its last row, opaque to the caller. */
export type CursorValues = readonly (string | number | null)[];

/**
 * @example
 * encodeCursor(['2026-03-01', 17])
 */
export const encodeCursor = (values: CursorValues): string =>
  Buffer.from(JSON.stringify(values), 'utf8').toString('base64url');

/**
 * The values inside a cursor, or `null` for the first page. Throws a refusal for one that was not handed out here.
 *
 * @example
 * decodeCursor(query.after, ['string', 'number'])
 */
export function decodeCursor(
  cursor: string | undefined,
  kinds: readonly ('string' | 'number')[],
): CursorValues | null {
  if (cursor === undefined || cursor === '') return null;
  try {
    const values: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    if (
      Array.isArray(values) &&
      values.length === kinds.length &&
      kinds.every(
        (kind, index) =>
          typeof values[index] === kind &&
          !(typeof values[index] === 'string' && values[index].includes('\0')),
      )
    ) {
      return values as CursorValues;
    }
  } catch {
    // Falls through to the refusal: not JSON is as foreign as the wrong JSON.
  }
  throw new DomainError('invalid-input', 'after: must be the "next" of an earlier page.', {
    issues: [{ path: 'after', message: 'must be the "next" of an earlier page' }],
  });
}

/**
 * Cuts rows fetched with one too many into a page.
 *
 * @example
 * toPage({ rows, limit: 50, cursorOf: (row) => [row.name, row.id] })
 */
export function toPage<Row>(options: { rows: Row[]; limit: number; cursorOf: (row: Row) => CursorValues }) {
  const items = options.rows.slice(0, options.limit);
  const last = items.at(-1);
  return {
    items,
    next:
      options.rows.length > options.limit && last !== undefined ? encodeCursor(options.cursorOf(last)) : null,
  };
}

/**
 * The key that a list by key goes on below, or `null` for the first page.
 *
 * @example
 * idFromCursor(query.after)
 */
export function idFromCursor(cursor: string | undefined): number | null {
  const id = decodeCursor(cursor, ['number'])?.[0];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
}
