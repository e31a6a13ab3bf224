import { sql, type SqlExecutor } from './client.ts';

/** The records that people know by a number. */
export type NumberedKind =
  | 'customer'
  | 'enquiry'
  | 'quotation'
  | 'order'
  | 'lot'
  | 'traveler'
  | 'recipe'
  | 'bath'
  | 'shipment'
  | 'certificate'
  | 'delivery-note'
  | 'invoice'
  | 'credit-note'
  | 'nonconformance'
  | 'impact-assessment'
  | 'customer-letter'
  | 'analysis'
  | 'addition'
  | 'trial-run'
  | 'polarization-scan'
  | 'film-measurement'
  | 'exposure-test';

/**
 * Takes the next numbers of a kind inside the caller's transaction: unique under concurrency, and given back if the
 * transaction is. One write however many, since a row written again and again in a transaction is found ever more slowly.
 *
 * @example
 * const [first, second] = await nextNumbers(tx.run, { kind: 'lot', count: 2 }); // 'L-00042', 'L-00043'
 */
export async function nextNumbers(
  execute: SqlExecutor,
  { kind, count }: { kind: NumberedKind; count: number },
): Promise<string[]> {
  const rows = await execute<{ number: string }>(sql`
    with series as (update "number_series" set "next" = "next" + ${count}::int where "kind" = ${kind} returning *)
    select s."prefix" || lpad(n::text, greatest(s."digits", length(n::text)), '0') as "number"
      from series s, generate_series(s."next" - ${count}::int, s."next" - 1) as n order by n`);
  if (rows.length !== count) throw new Error(`there is no number series for ${kind}`);
  return rows.map(({ number }) => number);
}

/**
 * Takes the next number of a kind, as {@link nextNumbers} does.
 *
 * @example
 * const number = await nextNumber(tx.run, 'lot'); // 'L-00042'
 */
export const nextNumber = async (execute: SqlExecutor, kind: NumberedKind): Promise<string> =>
  (await nextNumbers(execute, { kind, count: 1 })).join('');
