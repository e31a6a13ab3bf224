import type { LookBackKind, lookBack, TouchedLot } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { partName } from '../../db/snapshots.ts';
import { namesOf, touchedBy, type Span } from './touched-queries.ts';

interface Subject {
  kind: LookBackKind;
  id: number;
}
interface Named {
  id: number;
  label: string;
}

export const readName = async (execute: SqlExecutor, { kind, id }: Subject) =>
  (await execute<Named>(sql`select * from (${namesOf[kind]}) named where "id" = ${id}`))[0]?.label ?? null;

export const readNames = (execute: SqlExecutor, kind: LookBackKind) =>
  execute<Named>(sql`select * from (${namesOf[kind]}) named order by "id" desc limit 500`);

const standing = (lotId: Prisma.Sql) => sql`
  from "certificate" c where c."lotId" = ${lotId} and c."withdrawnAt" is null
   and not exists (select 1 from "certificate" n where n."replacesId" = c."id")`;

export const readTotals = async (execute: SqlExecutor, { kind, id, ...span }: Subject & Span) =>
  (
    await execute<z.output<typeof lookBack.reply>['totals']>(sql`
      with "touched" as (select distinct "lotId" from (${touchedBy[kind](id, span)}) tie)
      select count(*)::int as "lots", count(distinct o."customerId")::int as "customers",
             coalesce(sum(l."shippedCount"), 0)::int as "shippedPieces",
             coalesce(sum((select count(*) ${standing(sql`l."id"`)})), 0)::int as "certificates"
        from "touched" join "lot" l on l."id" = "touched"."lotId"
        join "order_line" ol on ol."id" = l."orderLineId"
        join "customer_order" o on o."id" = ol."orderId"`)
  )[0] ?? { lots: 0, customers: 0, shippedPieces: 0, certificates: 0 };

/** A page of the lots, the newest first, each with what binds it. */
export const readTouched = (
  execute: SqlExecutor,
  { kind, id, after, limit, ...span }: Subject & Span & { after: number | null; limit: number },
) =>
  execute<TouchedLot>(sql`
    with "tie" as materialized (select distinct * from (${touchedBy[kind](id, span)}) tie),
         "touched" as (
           select "lotId", jsonb_agg(jsonb_build_object('kind', "kind", 'id', "id", 'label', "label",
                    'at', to_char("at" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) order by "at", "id") as "ties"
             from "tie" ${after === null ? Prisma.empty : sql`where "lotId" < ${after}`}
            group by "lotId" order by "lotId" desc limit ${limit + 1})
    select l."id", l."number", jsonb_build_object('id', cu."id", 'name', cu."name") as "customer",
           ${partName(sql`(l."snapshot" -> 'part')`)} as "part", l."status", l."held", l."quantity", l."shippedCount", "touched"."ties",
           (select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'number', c."number") order by c."id"), '[]'::jsonb)
              ${standing(sql`l."id"`)}) as "certificates"
      from "touched" join "lot" l on l."id" = "touched"."lotId"
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      join "customer" cu on cu."id" = o."customerId"
     order by l."id" desc`);
