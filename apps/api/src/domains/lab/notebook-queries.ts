import { sql, type Run } from '../../db/client.ts';

/** Local times of the shop, `2026-03-31T14:05`, as instants, in their order. */
export async function instantsOf(run: Run, local: readonly string[]): Promise<string[]> {
  if (local.length === 0) return [];
  const rows = await run<{ at: Date }>(sql`
    select l."local"::timestamp at time zone (select "timeZone" from "shop") as "at"
      from unnest(${[...local]}::text[]) with ordinality as l("local", "place") order by l."place"`);
  return rows.map(({ at }) => at.toISOString());
}
