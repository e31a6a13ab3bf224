import type { Lot, LotSummary } from '@huelot/contracts';
import type { z } from 'zod';
import { type Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { customerIn, partRef, recipeRef } from '../../db/snapshots.ts';
import { standingCount, standsNotDone } from '../travelers/index.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

export const addLot = (
  db: Queryable,
  options: {
    number: string;
    quantity: number;
    orderLineId: number;
    partId: number;
    recipeRevisionId: number;
    rackId: number | null;
    supplyId: number | null;
    tanks: { position: number; tankId: number }[];
    dueDate: Date;
    priority: number;
    createdById: number;
  },
) => db.prisma.lot.create({ data: options, select: { id: true } });

type SummaryRow = z.input<typeof LotSummary>;

/** Lots by their keys, in the order of the keys. Planned once: it is the same for every list. */
export const readLotsByIds = async (execute: SqlExecutor, ids: readonly number[]) =>
  ids.length === 0
    ? []
    : execute<SummaryRow>(sql`
  select l."id", l."number", l."status", l."held", l."quantity", l."rejectedCount", l."dueDate"::text as "dueDate",
         ${instant(sql`l."createdAt"`)} as "createdAt",
         ${customerIn(sql`o."snapshot"`, sql`o."customerId"`)} as "customer",
         o."id" as "orderId", o."number" as "orderNumber",
         ${partRef(sql`d."part"`)} as "part", d."recipeName", t."signedSteps", t."steps", t."nextStep"
    from unnest(${[...ids]}::int[]) with ordinality k ("id", "place")
    join "lot" l on l."id" = k."id"
    join "order_line" ol on ol."id" = l."orderLineId"
    join "customer_order" o on o."id" = ol."orderId"
    -- Taken out once: each look into a long document reads all of it.
    cross join lateral (
      select l."snapshot" -> 'part' as "part", l."snapshot" -> 'recipe' ->> 'name' as "recipeName" offset 0) d
    left join lateral (
      select (count(s."id") filter (where x."signed"))::int as "signedSteps", count(s."id")::int as "steps",
             (array_agg(s."title" order by s."position") filter (where not x."signed"))[1] as "nextStep"
        from "traveler_step" s
        cross join lateral (select s."carriedSignOffId" is not null
          or exists (select 1 from "step_sign_off" o2 where o2."stepId" = s."id") as "signed") x
       where s."travelerId" = (
         select t2."id" from "traveler" t2 where t2."lotId" = l."id" order by t2."status" = 'issued' desc, t2."id" desc limit 1)) t on true
   order by k."place"`);

/** One lot as the wire shows it, or `null`. */
export async function readLot(execute: SqlExecutor, id: number): Promise<Lot | null> {
  const [row] = await execute<{ lot: Lot }>(sql`
    select jsonb_build_object(
      'id', l."id", 'number', l."number", 'status', l."status", 'held', l."held", 'quantity', l."quantity",
      'acceptedCount', l."acceptedCount", 'rejectedCount', l."rejectedCount", 'shippedCount', l."shippedCount",
      'dueDate', l."dueDate"::text, 'priority', l."priority", 'version', l."version",
      'plannedStartAt', ${instant(sql`l."plannedStartAt"`)}, 'plannedEndAt', ${instant(sql`l."plannedEndAt"`)},
      'createdAt', ${instant(sql`l."createdAt"`)},
      'customer', ${customerIn(sql`o."snapshot"`, sql`o."customerId"`)},
      'order', jsonb_build_object('id', o."id", 'number', o."number", 'lineId', ol."id", 'line', ol."position",
        'customerOrderNumber', o."customerOrderNumber"),
      'part', ${partRef(sql`l."snapshot" -> 'part'`)}, 'recipe', ${recipeRef(sql`l."snapshot" -> 'recipe'`, sql`rr`)},
      'rack', l."snapshot" -> 'rack', 'supply', l."snapshot" -> 'supply',
      'toCheck', ${toCheck}, 'stripCount', ${stripCount},
      'travelers', (
        select coalesce(jsonb_agg(jsonb_build_object('id', t."id", 'number', t."number", 'revision', t."revision", 'kind', t."kind",
                 'status', t."status", 'quantity', t."quantity", 'changeNote', t."changeNote",
                 'issuedBy', t."snapshot" -> 'issuedBy', 'issuedAt', ${instant(sql`t."issuedAt"`)},
                 'steps', (select count(*) from "traveler_step" s where s."travelerId" = t."id"),
                 'signedSteps', (select count(*) from "traveler_step" s where s."travelerId" = t."id"
                   and (s."carriedSignOffId" is not null or exists (select 1 from "step_sign_off" x where x."stepId" = s."id")))) order by t."id"), '[]'::jsonb)
          from "traveler" t where t."lotId" = l."id"),
      'holds', (
        select coalesce(jsonb_agg(jsonb_build_object('id', h."id", 'reason', h."reason", 'placedBy', h."snapshot" -> 'placedBy',
                 'placedAt', ${instant(sql`h."placedAt"`)}, 'releasedBy', h."snapshot" -> 'releasedBy',
                 'releasedAt', ${instant(sql`h."releasedAt"`)}, 'releaseReason', h."releaseReason") order by h."id"), '[]'::jsonb)
          from "lot_hold" h where h."lotId" = l."id"),
      'checks', (
        select coalesce(jsonb_agg(jsonb_build_object('id', f."id", 'acceptedCount', f."acceptedCount", 'rejectedCount', f."rejectedCount",
                 'reworkCount', f."reworkCount", 'reason', f."reason", 'notes', f."notes", 'checkedBy', f."snapshot" -> 'checkedBy',
                 'checkedAt', ${instant(sql`f."checkedAt"`)}) order by f."id"), '[]'::jsonb)
          from "final_check" f where f."lotId" = l."id"),
      'shipments', (
        select coalesce(jsonb_agg(jsonb_build_object('id', s."id", 'number', s."number", 'quantity', s."quantity", 'carrier', s."carrier",
                 'document', s."document", 'notes', s."notes", 'shippedBy', s."snapshot" -> 'shippedBy',
                 'shippedAt', ${instant(sql`s."shippedAt"`)}) order by s."id"), '[]'::jsonb)
          from "shipment" s where s."lotId" = l."id")) as "lot"
    from "lot" l
    join "order_line" ol on ol."id" = l."orderLineId"
    join "customer_order" o on o."id" = ol."orderId"
    join "recipe_revision" rr on rr."id" = l."recipeRevisionId"
    where l."id" = ${id}`);
  return row?.lot ?? null;
}

/** Signed strips of a lot, but for those signed by mistake. */
const stripCount = sql`(
  select count(*)::int from "step_sign_off" s where s."lotId" = l."id" and s."stepKind" = 'strip' and not ${standsNotDone('s')})`;

/** Pieces off the last step of the completed traveler that no final check has decided about. */
const toCheck = sql`coalesce((
  select ${standingCount('o', 'countOut')} - coalesce((select sum(f."acceptedCount" + f."rejectedCount" + f."reworkCount")
           from "final_check" f where f."travelerId" = t."id"), 0)
    from "traveler" t
    join "traveler_step" s on s."travelerId" = t."id"
    join "step_sign_off" o on o."stepId" = s."id" or o."id" = s."carriedSignOffId"
   where t."lotId" = l."id" and t."status" = 'complete'
   order by t."id" desc, s."position" desc limit 1), 0)`;

/** Locks a lot for the transaction. */
export async function lockLot(execute: SqlExecutor, id: number) {
  const [row] = await execute<{
    id: number;
    number: string;
    status: string;
    held: boolean;
    quantity: number;
    version: number;
    orderId: number;
    orderLineId: number;
    acceptedCount: number;
    rejectedCount: number;
    shippedCount: number;
    recipeRevisionId: number;
    supplyId: number | null;
    tanks: { position: number; tankId: number }[];
    toCheck: number;
    travelerId: number | null;
  }>(sql`
    select l."id", l."number", l."status", l."held", l."quantity", l."version", ol."orderId", l."orderLineId",
           l."acceptedCount", l."rejectedCount", l."shippedCount", l."recipeRevisionId", l."supplyId", l."tanks",
           (${toCheck})::int as "toCheck",
           (select t."id" from "traveler" t where t."lotId" = l."id" order by t."id" desc limit 1) as "travelerId"
      from "lot" l join "order_line" ol on ol."id" = l."orderLineId"
     where l."id" = ${id} for update of l`);
  return row ?? null;
}

export const changeLot = (
  db: Queryable,
  id: number,
  data: {
    status?: string;
    held?: boolean;
    acceptedCount?: number;
    rejectedCount?: number;
    shippedCount?: number;
    recipeRevisionId?: number;
    supplyId?: number | null;
    tanks?: { position: number; tankId: number }[];
    dueDate?: Date;
  },
) =>
  db.prisma.lot.update({ where: { id }, data: { ...data, version: { increment: 1 } }, select: { id: true } });

export const releaseOpenHolds = (
  execute: SqlExecutor,
  { releasedById, reason, lotId }: { lotId: number; releasedById: number; reason: string },
) =>
  execute(sql`
    update "lot_hold" set "releasedAt" = now(), "releasedById" = ${releasedById}, "releaseReason" = ${reason}
     where "lotId" = ${lotId} and "releasedAt" is null`);

/** Lots of a line that are not finished, so that a change of the line reaches them. */
export const readOpenLotsOfLine = (execute: SqlExecutor, lineId: number) =>
  execute<{
    id: number;
    number: string;
    travelerId: number | null;
    travelerNumber: string | null;
    travelerRevision: number | null;
    recipeRevisionId: number;
  }>(sql`
    select l."id", l."number", l."recipeRevisionId", t."id" as "travelerId", t."number" as "travelerNumber", t."revision" as "travelerRevision"
      from "lot" l left join "traveler" t on t."lotId" = l."id" and t."status" = 'issued'
     where l."orderLineId" = ${lineId} and l."status" in ('released', 'running')
     order by l."id" for update of l`);
