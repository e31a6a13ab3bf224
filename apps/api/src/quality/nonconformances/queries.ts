import type {
  CostKind,
  Correctable,
  Disposition,
  Fault,
  FoundAt,
  LotFacts,
  NonconformanceEntry,
  NonconformanceState,
  TakenFrom,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** A field as it stands: the newest correction of it, or what was written when it was opened. */
const standing = (field: Correctable): Prisma.Sql => sql`
  coalesce((select e."newValue" from "nonconformance_entry" e
             where e."nonconformanceId" = n."id" and e."kind" = 'correction' and e."field" = ${field}
             order by e."id" desc limit 1), n.${Prisma.raw(`"${field}"`)}::text)`;
const affected = sql`(${standing('piecesAffected')})::int`;
const decided = sql`coalesce((select sum(d."pieces") from "nonconformance_disposition" d where d."nonconformanceId" = n."id"), 0)::int`;

export interface ItemRow {
  id: number;
  number: string;
  state: NonconformanceState;
  fault: Fault;
  foundOn: string;
  foundAt: FoundAt;
  piecesAffected: number;
  undecided: number;
  lot: { id: number; number: string };
  customer: string;
  part: string;
  overdueDays: number;
  openedBy: string;
  openedAt: Date;
}
/** Actions of `n` that nobody has ended yet. */
const openActions = sql`
  "nonconformance_entry" a where a."nonconformanceId" = n."id" and a."kind" = 'action'
    and not exists (select from "nonconformance_entry" x where x."actionId" = a."id" and x."kind" = 'action-done')`;

export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    state?: NonconformanceState | undefined;
    fault?: Fault | undefined;
    lotId?: number | undefined;
    after: number | null;
    limit: number;
  },
) =>
  execute<ItemRow>(sql`
    select n."id", n."number", n."state", ${standing('fault')} as "fault", ${standing('foundOn')} as "foundOn", n."foundAt",
           ${affected} as "piecesAffected", greatest(${affected} - ${decided}, 0) as "undecided",
           jsonb_build_object('id', n."lotId", 'number', n."record" -> 'lot' ->> 'number') as "lot",
           n."record" -> 'customer' ->> 'name' as "customer", n."record" ->> 'part' as "part",
           case when n."state" = 'open' then greatest(coalesce((select max(current_date - a."dueOn") from ${openActions}), 0), 0) else 0 end as "overdueDays",
           n."snapshot" ->> 'openedBy' as "openedBy", n."openedAt"
      from "nonconformance" n where true
      ${filter.lotId === undefined ? Prisma.empty : sql`and n."lotId" = ${filter.lotId}`}
      ${filter.state === undefined ? Prisma.empty : sql`and n."state" = ${filter.state}`}
      ${filter.fault === undefined ? Prisma.empty : sql`and ${standing('fault')} = ${filter.fault}`}
      ${
        filter.search
          ? sql`and concat_ws(' ', n."number", n."record" -> 'lot' ->> 'number', n."record" -> 'customer' ->> 'name', n."record" ->> 'part',
                  n."customerReference") ilike ${containing(filter.search)}`
          : Prisma.empty
      }
      ${filter.after === null ? Prisma.empty : sql`and n."id" < ${filter.after}`}
     order by n."id" desc limit ${filter.limit + 1}`);

export interface NonconformanceRow extends Omit<ItemRow, 'lot' | 'customer' | 'part' | 'overdueDays'> {
  foundBy: string;
  customerReference: string;
  piecesInspected: number;
  place: string;
  description: string;
  requirement: string;
  measuredValue: number | null;
  measuredUnit: string;
  containment: string;
  record: LotFacts;
  corrected: Correctable[];
}
export const readNonconformance = async (
  execute: SqlExecutor,
  id: number,
): Promise<NonconformanceRow | null> =>
  (
    await execute<NonconformanceRow>(sql`
      select n."id", n."number", n."state", n."foundAt", n."measuredUnit", n."containment", n."record",
             ${standing('fault')} as "fault", ${standing('foundOn')} as "foundOn", ${standing('foundBy')} as "foundBy",
             ${standing('customerReference')} as "customerReference", ${affected} as "piecesAffected",
             greatest(${affected} - ${decided}, 0) as "undecided", (${standing('piecesInspected')})::int as "piecesInspected",
             ${standing('place')} as "place", ${standing('description')} as "description", ${standing('requirement')} as "requirement",
             (${standing('measuredValue')})::float8 as "measuredValue",
             (select coalesce(array_agg(distinct e."field"), '{}') from "nonconformance_entry" e
               where e."nonconformanceId" = n."id" and e."kind" = 'correction') as "corrected",
             n."snapshot" ->> 'openedBy' as "openedBy", n."openedAt"
        from "nonconformance" n where n."id" = ${id}`)
  )[0] ?? null;

/** The lot of a nonconformance, which is locked before it: everything that moves pieces locks the lot first. */
export const readLotOf = async (execute: SqlExecutor, id: number): Promise<number | null> =>
  (await execute<{ lotId: number }>(sql`select "lotId" from "nonconformance" where "id" = ${id}`))[0]
    ?.lotId ?? null;

export interface DispositionFacts {
  id: number;
  disposition: Disposition;
  pieces: number;
  takenFrom: TakenFrom;
  authority: string;
  concessionNumber: string;
  concessionBy: string;
  reason: string;
  traveler: { id: number; number: string } | null;
  by: string;
  at: Date;
}
export const readDispositions = (execute: SqlExecutor, id: number) =>
  execute<DispositionFacts>(sql`
    select d."id", d."disposition", d."pieces", d."takenFrom", d."authority", d."concessionNumber", d."concessionBy", d."reason",
           (select jsonb_build_object('id', t."id", 'number', t."number") from "traveler" t where t."id" = d."travelerId") as "traveler",
           d."snapshot" ->> 'decidedBy' as "by", d."decidedAt" as "at"
      from "nonconformance_disposition" d where d."nonconformanceId" = ${id} order by d."id"`);

export interface EntryRow extends Omit<NonconformanceEntry, 'at' | 'file'> {
  fileId: number | null;
  at: Date;
}
export const readEntries = (execute: SqlExecutor, id: number) =>
  execute<EntryRow>(sql`
    select e."id", e."kind", e."text", e."actionId", e."dueOn"::text as "dueOn", e."effective", e."fileId", e."costKind",
           e."amount"::text as "amount", e."field", e."newValue", e."byId", e."snapshot" ->> 'by' as "by", e."at",
           case when e."ownerId" is not null then jsonb_build_object('id', e."ownerId", 'name', e."snapshot" ->> 'owner') end as "owner"
      from "nonconformance_entry" e where e."nonconformanceId" = ${id} order by e."id"`);

export interface NewRow {
  number: string;
  lotId: number;
  holdId: number | null;
  finalCheckId: number | null;
  shipmentId: number | null;
  foundOn: Date;
  foundAt: FoundAt;
  foundBy: string;
  customerReference: string;
  piecesAffected: number;
  piecesInspected: number;
  fault: Fault;
  place: string;
  description: string;
  requirement: string;
  measuredValue: number | null;
  measuredUnit: string;
  containment: string;
  record: LotFacts;
  openedById: number;
}
export const addNonconformance = (db: Queryable, { record, ...data }: NewRow) =>
  db.prisma.nonconformance.create({ data: { ...data, record }, select: { id: true } });

export const addDisposition = (
  db: Queryable,
  data: {
    nonconformanceId: number;
    lotId: number;
    disposition: Disposition;
    pieces: number;
    takenFrom: TakenFrom;
    acceptedChange: number;
    rejectedChange: number;
    shippedChange: number;
    authority: string;
    concessionNumber: string;
    concessionBy: string;
    reason: string;
    travelerId: number | null;
    decidedById: number;
  },
) => db.prisma.nonconformanceDisposition.create({ data, select: { id: true } });

export interface NewEntryRow {
  nonconformanceId: number;
  kind: NonconformanceEntry['kind'];
  text: string;
  actionId?: number;
  ownerId?: number;
  dueOn?: Date;
  effective?: boolean;
  fileId?: number;
  costKind?: CostKind;
  amount?: string;
  field?: Correctable;
  newValue?: string;
  byId: number;
}
export const addEntry = (db: Queryable, data: NewEntryRow) =>
  db.prisma.nonconformanceEntry.create({ data, select: { id: true } });

export const setState = (db: Queryable, id: number, state: NonconformanceState) =>
  db.prisma.nonconformance.update({ where: { id }, data: { state }, select: { id: true } });

export interface LotNonconformance {
  id: number;
  number: string;
  state: NonconformanceState;
  fault: Fault;
  foundAt: FoundAt;
  piecesAffected: number;
  undecided: number;
  /** Its pieces were rejected before it was opened, or are with the customer: nothing of them waits to be shipped. */
  isApart: boolean;
  openedBy: string;
  openedAt: Date;
}
/** Nonconformances of a lot, the oldest first. */
export const readOfLot = (execute: SqlExecutor, lotId: number) =>
  execute<LotNonconformance>(sql`
    select n."id", n."number", n."state", ${standing('fault')} as "fault", n."foundAt", ${affected} as "piecesAffected",
           greatest(${affected} - ${decided}, 0) as "undecided",
           n."finalCheckId" is not null or n."foundAt" = 'customer' as "isApart",
           n."snapshot" ->> 'openedBy' as "openedBy", n."openedAt"
      from "nonconformance" n where n."lotId" = ${lotId} order by n."id"`);

/** What happened to the nonconformances of a lot. */
export const readEvents = (execute: SqlExecutor, lotId: number) =>
  execute<{ number: string; at: Date; by: string; what: string; detail: string }>(sql`
    select n."number", n."openedAt" as "at", n."snapshot" ->> 'openedBy' as "by", 'opened' as "what", n."description" as "detail"
      from "nonconformance" n where n."lotId" = ${lotId}
     union all
    select n."number", d."decidedAt", d."snapshot" ->> 'decidedBy', concat(d."disposition", ' of ', d."pieces", ' pieces'), d."reason"
      from "nonconformance" n join "nonconformance_disposition" d on d."nonconformanceId" = n."id" where n."lotId" = ${lotId}
     union all
    select n."number", e."at", e."snapshot" ->> 'by', e."kind", e."text"
      from "nonconformance" n join "nonconformance_entry" e on e."nonconformanceId" = n."id"
     where n."lotId" = ${lotId} and e."kind" in ('cause', 'closed', 'reopened')`);

export const readCurrency = async (execute: SqlExecutor) =>
  (await execute<{ currency: string }>(sql`select "currency" from "shop" where "id" = 1`))[0]?.currency ?? '';
export const readTotalCost = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{ total: string }>(
      sql`select coalesce(sum("amount"), 0)::numeric(14, 2)::text as "total" from "nonconformance_entry" where "nonconformanceId" = ${id} and "kind" = 'cost'`,
    )
  )[0]?.total ?? '0.00';

/** Whoever is active can own an action. */
export const readOwners = (execute: SqlExecutor) =>
  execute<{ id: number; name: string }>(
    sql`select "id", "displayName" as "name" from "person" where "active" order by "displayName"`,
  );
export const readDay = async (execute: SqlExecutor) =>
  (
    await execute<{ day: string }>(
      sql`select (now() at time zone coalesce((select "timeZone" from "shop" where "id" = 1), 'UTC'))::date::text as "day"`,
    )
  )[0]?.day ?? '';
/** Pieces of the last checked lots of a part number, and how many of each lot went round; a piece that went twice counts once at most. */
export const readReworked = async (
  execute: SqlExecutor,
  { partId, recipeId, last }: { partId: number; recipeId: number | undefined; last: number },
) =>
  (
    await execute<{ lots: number; pieces: number; reworked: number }>(sql`
      select count(*)::int as "lots", coalesce(sum(l."quantity"), 0)::int as "pieces",
             coalesce(sum(least(l."quantity", l."reworked")), 0)::int as "reworked"
        from (select l."quantity",
                     (select coalesce(sum(f."reworkCount"), 0) from "final_check" f where f."lotId" = l."id")
                       + (select coalesce(sum(d."pieces"), 0) from "nonconformance_disposition" d
                           where d."lotId" = l."id" and d."disposition" = 'rework') as "reworked"
                from "part" asked
                join "part" p on p."customerId" = asked."customerId" and p."number" = asked."number"
                join "lot" l on l."partId" = p."id"
               where asked."id" = ${partId} and exists (select from "final_check" f where f."lotId" = l."id")
                 ${
                   recipeId === undefined
                     ? Prisma.empty
                     : sql`and exists (select from "recipe_revision" r where r."id" = l."recipeRevisionId" and r."recipeId" = ${recipeId})`
                 }
               order by l."id" desc limit ${last}) l`)
  )[0] ?? { lots: 0, pieces: 0, reworked: 0 };

/** Pieces rejected by dispositions, less those that were taken back: the final check adds it up again. */
export const rejectedByDispositions = async (execute: SqlExecutor, lotId: number) =>
  (
    await execute<{ count: number }>(
      sql`select coalesce(sum("rejectedChange"), 0)::int as "count" from "nonconformance_disposition" where "lotId" = ${lotId}`,
    )
  )[0]?.count ?? 0;
