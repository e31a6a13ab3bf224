import type { AssessedLotFacts, AssessmentItem, AssessmentState, LookBackTie } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import { partName } from '../../db/snapshots.ts';

/** Holds a word for the rest of the transaction. */
export const lockWord = (execute: SqlExecutor, word: string) =>
  execute(sql`select 1 from (select pg_advisory_xact_lock(hashtextextended(${word}, 0))) held`);

/** How a cause was answered already, in a sentence; null where it was not. */
export const readAnswer = async (execute: SqlExecutor, { kind, key }: { kind: string; key: number }) =>
  (
    await execute<{ words: string }>(sql`
      select concat(a."number", ' assesses it already.') as "words" from "impact_assessment" a
       where a."causeKind" = ${kind} and a."causeId" = ${key}
       union all
      select concat('It was dismissed by ', d."snapshot" ->> 'dismissedBy', ': ', d."reason") from "assessment_dismissal" d
       where d."causeKind" = ${kind} and d."causeId" = ${key}`)
  )[0]?.words ?? null;

const judgedLots = sql`
  select distinct on (e."lotId") e."lotId", e."affected" from "assessment_entry" e
   where e."assessmentId" = a."id" and e."kind" = 'judgement' order by e."lotId", e."id" desc`;
const today = sql`(now() at time zone coalesce((select "timeZone" from "shop" where "id" = 1), 'UTC'))::date`;
const item = sql`
  a."id", a."number", a."state", a."aboutName", a."reason",
  jsonb_build_object('id', a."ownerId", 'name', a."snapshot" ->> 'owner') as "owner", a."dueOn"::text as "dueOn",
  case when a."state" = 'open' then greatest(${today} - a."dueOn", 0) else 0 end as "overdueDays",
  (select count(*)::int from "assessment_lot" l where l."assessmentId" = a."id") as "lots", j."judged", j."affected",
  a."snapshot" ->> 'openedBy' as "openedBy", a."openedAt"`;
const from = sql`
  "impact_assessment" a
  cross join lateral (select count(*)::int as "judged", count(*) filter (where "affected")::int as "affected" from (${judgedLots}) x) j`;

export type ItemRow = Omit<AssessmentItem, 'openedAt'> & { openedAt: Date };
export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    state?: AssessmentState | undefined;
    lotId?: number | undefined;
    after: number | null;
    limit: number;
  },
) =>
  execute<ItemRow>(sql`
    select ${item} from ${from} where true
      ${filter.state === undefined ? Prisma.empty : sql`and a."state" = ${filter.state}`}
      ${
        filter.lotId === undefined
          ? Prisma.empty
          : sql`and exists (select from "assessment_lot" l where l."assessmentId" = a."id" and l."lotId" = ${filter.lotId})`
      }
      ${
        filter.search
          ? sql`and concat_ws(' ', a."number", a."aboutName", a."reason", a."snapshot" ->> 'owner') ilike ${containing(filter.search)}`
          : Prisma.empty
      }
      ${filter.after === null ? Prisma.empty : sql`and a."id" < ${filter.after}`}
     order by a."id" desc limit ${filter.limit + 1}`);

export interface AssessmentRow extends ItemRow {
  about: string | null;
  from: string | null;
  to: string | null;
}
export const readAssessment = async (execute: SqlExecutor, id: number): Promise<AssessmentRow | null> =>
  (
    await execute<AssessmentRow>(sql`
      select ${item}, a."about", a."fromDay"::text as "from", a."toDay"::text as "to" from ${from} where a."id" = ${id}`)
  )[0] ?? null;
export const lockAssessment = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "impact_assessment" where "id" = ${id} for update`);
/** Open assessments of the same record. */
export const readOpenAbout = (execute: SqlExecutor, about: string) =>
  execute<{ id: number; number: string }>(
    sql`select "id", "number" from "impact_assessment" where "about" = ${about} and "state" = 'open' order by "id"`,
  );

/** What lots are and what has left the house of them, as the record says it now. */
export const readLotFacts = (execute: SqlExecutor, which: { ids: readonly number[] } | { number: string }) =>
  execute<AssessedLotFacts & { id: number }>(sql`
    select l."id", l."number", jsonb_build_object('id', cu."id", 'number', cu."number", 'name', cu."name") as "customer",
           jsonb_build_object('number', o."number", 'customerOrderNumber', o."customerOrderNumber") as "order",
           ${partName(sql`(l."snapshot" -> 'part')`)} as "part", l."quantity", l."status", l."held",
           (select coalesce(jsonb_agg(jsonb_build_object('number', h."number", 'quantity', h."quantity", 'shippedAt',
                     to_char(h."shippedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) order by h."id"), '[]'::jsonb)
              from "shipment" h where h."lotId" = l."id") as "shipments",
           (select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'number', c."number", 'revision', c."revision") order by c."id"), '[]'::jsonb)
              from "certificate" c where c."lotId" = l."id" and c."withdrawnAt" is null
               and not exists (select from "certificate" n where n."replacesId" = c."id")) as "certificates"
      from "lot" l
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      join "customer" cu on cu."id" = o."customerId"
     where ${'ids' in which ? sql`l."id" = any(${[...which.ids]}::int[])` : sql`upper(l."number") = upper(${which.number})`}
     order by l."id" desc`);

export interface LotRow {
  lotId: number;
  facts: AssessedLotFacts;
  ties: LookBackTie[];
  why: string;
  held: boolean;
  status: AssessedLotFacts['status'];
  shippedCount: number;
  customerId: number;
}
export const readLots = (execute: SqlExecutor, assessmentId: number) =>
  execute<LotRow>(sql`
    select x."lotId", x."facts", x."ties", x."why", l."held", l."status", l."shippedCount",
           (x."facts" -> 'customer' ->> 'id')::int as "customerId"
      from "assessment_lot" x join "lot" l on l."id" = x."lotId"
     where x."assessmentId" = ${assessmentId} order by x."lotId" desc`);

export interface EntryRow {
  id: number;
  kind: 'judgement' | 'hold' | 'nonconformance' | 'no-letter' | 'closed';
  lotId: number | null;
  customerId: number | null;
  affected: boolean | null;
  nonconformance: { id: number; number: string } | null;
  text: string;
  by: string;
  at: Date;
}
export const readEntries = (execute: SqlExecutor, assessmentId: number) =>
  execute<EntryRow>(sql`
    select e."id", e."kind", e."lotId", e."customerId", e."affected", e."text", e."snapshot" ->> 'by' as "by", e."at",
           (select jsonb_build_object('id', n."id", 'number', n."number") from "nonconformance" n where n."id" = e."nonconformanceId")
             as "nonconformance"
      from "assessment_entry" e where e."assessmentId" = ${assessmentId} order by e."id"`);

export interface LetterRow {
  id: number;
  number: string;
  customerId: number;
  lots: string[];
  signedBy: string;
  signedAt: Date;
}
export const readLetters = (execute: SqlExecutor, assessmentId: number) =>
  execute<LetterRow>(sql`
    select t."id", t."number", t."customerId", array(select jsonb_path_query(t."facts", '$.lots[*].number') #>> '{}') as "lots",
           t."snapshot" ->> 'signedBy' as "signedBy", t."signedAt"
      from "assessment_letter" t where t."assessmentId" = ${assessmentId} order by t."id"`);

/** What a letter is addressed to. */
export const readAddressee = async (execute: SqlExecutor, customerId: number) =>
  (
    await execute<{ address: string | null; contacts: string[] }>(sql`
      select (select "lines" from "customer_address" where "customerId" = ${customerId}
               order by array_position(array['billing', 'delivery', 'other'], "kind"), "position" limit 1) as "address",
             array(select concat_ws(', ', "name", nullif("role", '')) from "customer_contact" where "customerId" = ${customerId}
                    order by "position") as "contacts"`)
  )[0] ?? { address: null, contacts: [] };

/** Whoever may judge can own an assessment. */
export const readOwners = (execute: SqlExecutor, roles: readonly string[]) =>
  execute<{ id: number; name: string }>(sql`
    select "id", "displayName" as "name" from "person" where "active" and "roles" && ${[...roles]}::text[] order by "displayName"`);
export const readDay = async (execute: SqlExecutor) =>
  (await execute<{ day: string }>(sql`select ${today}::text as "day"`))[0]?.day ?? '';

/** What happened to a lot in impact assessments. */
export const readEvents = (execute: SqlExecutor, lotId: number) =>
  execute<{ number: string; at: Date; by: string; what: string; detail: string }>(sql`
    select a."number", x."addedAt" as "at", x."snapshot" ->> 'addedBy' as "by", 'came under assessment' as "what",
           coalesce(nullif(x."why", ''), a."reason") as "detail"
      from "assessment_lot" x join "impact_assessment" a on a."id" = x."assessmentId" where x."lotId" = ${lotId}
     union all
    select a."number", e."at", e."snapshot" ->> 'by', case when e."affected" then 'judged affected' else 'judged not affected' end, e."text"
      from "assessment_entry" e join "impact_assessment" a on a."id" = e."assessmentId"
     where e."lotId" = ${lotId} and e."kind" = 'judgement'
     union all
    select a."number", t."signedAt", t."snapshot" ->> 'signedBy', concat('letter ', t."number", ' to ', t."facts" -> 'customer' ->> 'name'), t."found"
      from "assessment_letter" t
      join "impact_assessment" a on a."id" = t."assessmentId"
      join "assessment_lot" x on x."assessmentId" = a."id" and x."lotId" = ${lotId}
     where t."facts" -> 'lots' @> jsonb_build_array(jsonb_build_object('number', x."facts" ->> 'number'))
     union all
    select a."number", e."at", e."snapshot" ->> 'by', 'closed', e."text"
      from "assessment_entry" e
      join "impact_assessment" a on a."id" = e."assessmentId"
      join "assessment_lot" x on x."assessmentId" = a."id" and x."lotId" = ${lotId}
     where e."kind" = 'closed'`);
