import type { PlacedInstrument } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

interface Place {
  quantity: string;
  tankId: number | null;
  supplyId: number | null;
}

export const clearPlaces = (execute: SqlExecutor, instrumentId: number) =>
  execute(sql`delete from "instrument_place" where "instrumentId" = ${instrumentId}`);

/** One instrument reads a figure at a place: whichever was named last. */
export async function writePlace(
  execute: SqlExecutor,
  { instrumentId, tankId, supplyId, quantity }: Place & { instrumentId: number },
): Promise<void> {
  await execute(sql`
    delete from "instrument_place"
     where "quantity" = ${quantity} and "tankId" is not distinct from ${tankId}::int and "supplyId" is not distinct from ${supplyId}::int`);
  await execute(sql`
    insert into "instrument_place" ("instrumentId", "tankId", "supplyId", "quantity")
    values (${instrumentId}, ${tankId}::int, ${supplyId}::int, ${quantity})`);
}

/** The code of a tank or power supply in use; null where there is none. */
export const readCodeOfPlace = async (
  execute: SqlExecutor,
  { tankId, supplyId }: Place,
): Promise<string | null> =>
  (
    await execute<{ code: string }>(sql`
      select "code" from "tank" where "id" = ${tankId}::int and "archivedAt" is null
       union all
      select "code" from "power_supply" where "id" = ${supplyId}::int and "archivedAt" is null`)
  )[0]?.code ?? null;

/** What reads what at some tanks and of some supplies, and whether it may be used today. */
export const readPlaced = (
  execute: SqlExecutor,
  { tankIds, supplyIds }: { tankIds: readonly number[]; supplyIds: readonly number[] },
) =>
  execute<PlacedInstrument & { tankId: number | null; supplyId: number | null }>(sql`
    select p."quantity", p."tankId", p."supplyId", i."id", i."code", i."name",
           instrument_fault_on(i."id", (now() at time zone (select "timeZone" from "shop"))::date) as "fault"
      from "instrument_place" p join "instrument" i on i."id" = p."instrumentId" and i."archivedAt" is null
     where p."tankId" = any(${[...tankIds]}::int[]) or p."supplyId" = any(${[...supplyIds]}::int[])
     order by p."tankId" nulls last, p."id"`);
