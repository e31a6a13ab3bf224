import { query } from '../support/database-server.ts';
import type { Ledger } from './write-load.ts';

/** How many writes are wrong in a record after faults. */
export interface Damage {
  /** Acknowledged, and not there. */
  lost: number;
  /** There more than once. */
  doubled: number;
  /** There in part: a file without all of its content, a reading beyond its limit without its hold, a write without its entry in the audit trail or the reverse. */
  torn: number;
}

/** Compares what was acknowledged with what the database holds, and every write with the whole of itself. */
export async function damageOf(connectionString: string, ledger: Ledger): Promise<Damage> {
  const ask = <Row extends object>(statement: string) => query<Row>(connectionString, statement);
  const customers = await ask<{ name: string; times: number; entries: number }>(
    `select name, count(*)::int as times, sum((select count(*) from audit_entry a
        where a."recordKind" = 'customer' and a."recordId" = c.id and a.action = 'added'))::int as entries
       from customer c where name like 'load %' group by name`,
  );
  const files = await ask<{ id: number; whole: boolean; times: number }>(
    `select f.id, (select count(*) from file same where same.name = f.name)::int as times, f."sizeBytes" = coalesce(sum(length(c.bytes)), 0)
        and f.sha256 = sha256(coalesce(string_agg(c.bytes, '' order by c.seq), '')) as whole
       from file f left join file_chunk c on c."fileId" = f.id group by f.id`,
  );
  const steps = await ask<{ id: number; readings: number; entries: number }>(
    `select s."stepId" as id, (select count(*) from step_reading r where r."signOffId" = s.id)::int as readings,
        (select count(*) from audit_entry a where a."recordKind" = 'lot' and a."recordId" = s."lotId"
            and a.action like 'signed step 1,%')::int as entries
       from step_sign_off s where s."stepKind" = 'clean'`,
  );
  const colours = await ask<{ name: string; readings: number; holds: number }>(
    `select split_part(r.place, ' ', 1) as name, count(*)::int as readings,
        (select count(*) from lot_hold h where h.reason like '%' || split_part(min(r.place), ' ', 1) || ' left:%')::int as holds
       from colour_reading r group by 1`,
  );
  const [loose] = await ask<{ entries: number }>(
    `select count(*)::int as entries from audit_entry a where
        (a."recordKind" = 'customer' and not exists (select from customer c where c.id = a."recordId"))
        or (a.action like 'signed step 1,%' and not exists (select from step_sign_off s where s."lotId" = a."recordId"))`,
  );
  const [told] = await ask<{ entries: number }>(
    `select count(*)::int as entries from audit_entry where action like 'recorded 2 colour readings:%'`,
  );
  const missing = (wanted: readonly (string | number)[], there: (string | number)[]) => {
    const found = new Set(there);
    return wanted.filter((one) => !found.has(one)).length;
  };
  const count = <Row>(rows: Row[], isSo: (row: Row) => boolean) => rows.filter(isSo).length;
  return {
    lost:
      missing(
        ledger.customers,
        customers.map(({ name }) => name),
      ) +
      missing(
        ledger.files,
        files.map(({ id }) => id),
      ) +
      missing(
        ledger.steps,
        steps.map(({ id }) => id),
      ) +
      missing(
        ledger.colours,
        colours.map(({ name }) => name),
      ),
    doubled:
      count(customers, ({ times, entries }) => times > 1 || entries > 1) +
      count(files, ({ times }) => times > 1) +
      count(steps, ({ entries, readings }) => entries > 1 || readings > 1) +
      count(colours, ({ readings, holds }) => readings > 2 || holds > 1),
    torn:
      count(customers, ({ entries }) => entries === 0) +
      count(files, ({ whole }) => !whole) +
      count(steps, ({ entries, readings }) => entries === 0 || readings === 0) +
      count(colours, ({ readings, holds }) => readings < 2 || holds === 0) +
      Math.abs((told?.entries ?? 0) - colours.length) +
      (loose?.entries ?? 0),
  };
}
