import { sql, type Run } from './client.ts';

/** The records that people know by a number. */
export type NumberedKind =
  | 'customer'
  | 'quotation'
  | 'order'
  | 'lot'
  | 'traveler'
  | 'recipe'
  | 'bath'
  | 'shipment'
  | 'analysis'
  | 'addition';

/**
 * Takes the next number of a kind inside the caller's transaction: unique under concurrency, and given back if the
 * transaction is.
 *
 * @example
 * const number = await nextNumber(tx.run, 'lot'); // 'L-00042'
 */
export async function nextNumber(run: Run, kind: NumberedKind): Promise<string> {
  const [row] = await run<{ number: string }>(sql`
    update "number_series" set "next" = "next" + 1 where "kind" = ${kind}
    returning "prefix" || lpad(("next" - 1)::text, greatest("digits", length(("next" - 1)::text)), '0') as "number"`);
  if (row === undefined) throw new Error(`there is no number series for ${kind}`);
  return row.number;
}
