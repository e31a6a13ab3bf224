import type { createInstrument, Instrument, InstrumentPlace } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, whereArchived } from '../../db/lists.ts';

type NewInstrument = z.output<typeof createInstrument.body>;
export interface InstrumentRow extends Omit<Instrument, 'archivedAt'> {
  archivedAt: Date | null;
}
const today = sql`(now() at time zone (select "timeZone" from "shop"))::date`;
const instruments = sql`
  select i."id", i."code", i."name", i."kind", i."serial", i."calibrationDueOn"::text as "calibrationDueOn",
         coalesce(i."calibrationDueOn" < ${today}, false) as "calibrationOverdue",
         coalesce(instrument_fault_on(i."id", ${today}) = 'failed', false) as "calibrationFailed",
         i."notes", i."archivedAt", i."version"
    from "instrument" i`;

export const readInstruments = (
  execute: SqlExecutor,
  {
    archived,
    kind,
    search,
    after,
    limit,
  }: {
    search?: string | undefined;
    archived?: 'no' | 'yes' | 'all' | undefined;
    kind?: Instrument['kind'] | undefined;
    after: string | null;
    limit: number;
  },
) =>
  execute<InstrumentRow>(sql`
    ${instruments} where true ${whereArchived(sql`i."archivedAt"`, archived)}
      ${kind === undefined ? Prisma.empty : sql`and i."kind" = ${kind}`}
      ${search ? sql`and (i."code" || ' ' || i."name" || ' ' || i."serial") ilike ${containing(search)}` : Prisma.empty}
      ${after === null ? Prisma.empty : sql`and i."code" > ${after}`}
     order by i."code" limit ${limit + 1}`);
export const readInstrument = async (execute: SqlExecutor, id: number): Promise<InstrumentRow | null> =>
  (await execute<InstrumentRow>(sql`${instruments} where i."id" = ${id}`))[0] ?? null;
export const readInstrumentByCode = (db: Queryable, code: string) =>
  db.prisma.instrument.findUnique({ where: { code }, select: { id: true } });
export const lockInstrument = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "instrument" where "id" = ${id} for update`);

const day = (text: string | null) => (text === null ? null : new Date(`${text}T00:00:00Z`));
export const addInstrument = (db: Queryable, input: NewInstrument) =>
  db.prisma.instrument.create({
    data: { ...input, calibrationDueOn: day(input.calibrationDueOn) },
    select: { id: true },
  });
export const changeInstrument = (
  db: Queryable,
  { id, input, archivedAt }: { id: number; input: NewInstrument; archivedAt: Date | null },
) =>
  db.prisma.instrument.update({
    where: { id },
    data: { ...input, calibrationDueOn: day(input.calibrationDueOn), archivedAt, version: { increment: 1 } },
    select: { id: true },
  });
/** Another version, with another due date where there is one to set. */
export const touchInstrument = (db: Queryable, id: number, calibrationDueOn?: string | null) =>
  db.prisma.instrument.update({
    where: { id },
    data: {
      ...(calibrationDueOn === undefined ? {} : { calibrationDueOn: day(calibrationDueOn) }),
      version: { increment: 1 },
    },
    select: { id: true },
  });

/** How a page shows an instrument. */
export const toInstrument = (row: InstrumentRow): Instrument => ({
  ...row,
  archivedAt: row.archivedAt?.toISOString() ?? null,
});

export const readToday = async (execute: SqlExecutor): Promise<string> =>
  (await execute<{ day: string }>(sql`select ${today}::text as "day"`))[0]?.day ?? '';

export const readPlaces = (execute: SqlExecutor, instrumentId: number) =>
  execute<InstrumentPlace>(sql`
    select p."quantity", case when t."id" is not null then jsonb_build_object('id', t."id", 'code', t."code") end as "tank",
           case when u."id" is not null then jsonb_build_object('id', u."id", 'code', u."code") end as "supply"
      from "instrument_place" p left join "tank" t on t."id" = p."tankId" left join "power_supply" u on u."id" = p."supplyId"
     where p."instrumentId" = ${instrumentId} order by t."code", u."code", p."quantity"`);
