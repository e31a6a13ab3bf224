import { sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from '../baths/index.ts';

/** Local times of the shop, `2026-03-31T14:05`, as instants, in their order. */
export async function instantsOf(execute: SqlExecutor, local: readonly string[]): Promise<string[]> {
  if (local.length === 0) return [];
  const rows = await execute<{ at: Date }>(sql`
    select l."local"::timestamp at time zone (select "timeZone" from "shop") as "at"
      from unnest(${[...local]}::text[]) with ordinality as l("local", "place") order by l."place"`);
  return rows.map(({ at }) => at.toISOString());
}

/** What imports before brought to a bath and still counts: a voided one can be brought again. */
export const readImported = (execute: SqlExecutor, bathId: number) =>
  execute<{ number: string; sampledAt: Date }>(sql`
    select a."number", a."sampledAt" from "analysis" a
     where a."bathId" = ${bathId} and a."why" = 'notebook' and ${analysisCounts(sql`a."id"`)}`);
