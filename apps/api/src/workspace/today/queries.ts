import {
  COMPETENCE_ENDS_SOON_DAYS,
  ENQUIRY_ANSWER_DAYS,
  permissions,
  type NamedColour,
  type PageRef,
} from '@huelot/contracts';
import { sql, type Prisma, type SqlExecutor } from '../../db/client.ts';
import { targetOf } from '../../db/snapshots.ts';
import { standingCount } from '../../production/travelers/index.ts';
import { pageOf } from '../page-of.ts';

export interface WaitingRow {
  page: PageRef;
  title: string;
  detail: string;
  when: string | null;
  urgent: boolean;
  /** Of a lot. */
  colour?: NamedColour | null;
}
/** The most that stands under one heading. */
export const MAX_WAITING = 12;

/** The shop's calendar day now. */
export const readDay = async (execute: SqlExecutor) =>
  (
    await execute<{ day: string }>(
      sql`select (now() at time zone "timeZone")::date::text as "day" from "shop"`,
    )
  )[0]?.day ?? '';

/** The colour that the lot `l` asks for. */
const colourOfLot = targetOf(sql`l."snapshot" -> 'part'`);

/** Beside a row: the open offers `q` and the lots in work `l` of parts that are held to any of some colour standards, in a zone or whole. */
const touched = (standardIds: Prisma.Sql) => sql`
        cross join lateral (
          select array_agg(p."id") as "ids" from "part" p
           where p."colourStandardId" = any(${standardIds})
              or p."id" in (select z."partId" from "part_zone" z where z."colourStandardId" = any(${standardIds}))) parts
        cross join lateral (
          select string_agg(distinct q."number", ', ') as "numbers"
            from "quotation_line" ql
            join "quotation_revision" qr on qr."id" = ql."revisionId" and qr."status" in ('draft', 'sent')
            join "quotation" q on q."id" = qr."quotationId"
           where ql."partId" = any(parts."ids")) q
        cross join lateral (
          select string_agg(l."number", ', ' order by l."id") as "numbers"
            from "lot" l
           where l."partId" = any(parts."ids") and l."status" in ('released', 'running')) l`;

/** What waits, one statement a heading; each row also carries how many there are in all. */
export const waiting = {
  steps: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('tankside', sql`l."id"`)} as "page", concat(l."number", ': ', n."title") as "title",
             concat_ws(', ', coalesce(k."code", 'bench'), t."quantity" - r."rejected" || ' pieces', t."frozen" -> 'part' ->> 'number') as "detail",
             l."dueDate"::text as "when", l."dueDate" <= ${day}::date as "urgent", ${colourOfLot} as "colour", count(*) over ()::int as "total"
        from "lot" l
        join "traveler" t on t."lotId" = l."id" and t."status" = 'issued'
        cross join lateral (
          select st."title", st."tankId" from "traveler_step" st
           where st."travelerId" = t."id" and st."carriedSignOffId" is null
             and not exists (select 1 from "step_sign_off" s where s."stepId" = st."id")
           order by st."position" limit 1) n
        cross join lateral (
          select coalesce(sum(${standingCount('s', 'rejectCount')}), 0)::int as "rejected"
            from "traveler_step" st join "step_sign_off" s on s."stepId" = st."id" or s."id" = st."carriedSignOffId"
           where st."travelerId" = t."id") r
        left join "tank" k on k."id" = n."tankId"
       where l."status" in ('released', 'running') and not l."held"
       order by l."priority" desc, l."dueDate", l."id" limit ${MAX_WAITING}`),
  holds: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('lot', sql`l."id"`)} as "page", l."number" as "title", h."reason" as "detail",
             to_char(h."placedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", true as "urgent", ${colourOfLot} as "colour", count(*) over ()::int as "total"
        from "lot" l join "lot_hold" h on h."lotId" = l."id" and h."releasedAt" is null
       where l."held" order by h."placedAt" limit ${MAX_WAITING}`),
  parkedSignOffs: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('parkedSignOff', sql`k."id"`)} as "page", concat(l."number", ' step ', st."position", ', ', st."title") as "title",
             concat(p."displayName", ': ', k."refusal") as "detail",
             to_char(k."doneAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", true as "urgent", count(*) over ()::int as "total"
        from "parked_sign_off" k
        join "lot" l on l."id" = k."lotId" join "traveler_step" st on st."id" = k."stepId" join "person" p on p."id" = k."personId"
       where k."decision" is null order by k."id" limit ${MAX_WAITING}`),
  bathHolds: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('bath', sql`b."id"`)} as "page", concat(t."code", ', ', b."number") as "title",
             string_agg(h."reason", '; ' order by h."fromAt", h."id") as "detail",
             to_char(min(h."fromAt") at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", true as "urgent", count(*) over ()::int as "total"
        from "bath_hold" h join "bath" b on b."id" = h."bathId" join "tank" t on t."id" = b."tankId"
       where h."releasedAt" is null
       group by b."id", t."code" order by min(h."fromAt"), b."id" limit ${MAX_WAITING}`),
  toOrder: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('chemical', sql`c."id"`)} as "page", concat(c."code", ' ', c."name") as "title",
             concat(trim_scale(round(s."kg"::numeric, 1)), ' kg left, to be ordered below ',
                    trim_scale(round(c."reorderPointKg"::numeric, 1)), ' kg') as "detail",
             null as "when", s."kg" <= 0 as "urgent", count(*) over ()::int as "total"
        from "chemical" c
        cross join lateral (
          select coalesce(sum(m."balanceKg"), 0) as "kg"
            from "chemical_lot" l
            cross join lateral (
              select "balanceKg" from "stock_movement" where "lotId" = l."id" order by "id" desc limit 1) m
           where l."chemicalId" = c."id" and l."status" = 'open') s
       where c."archivedAt" is null and s."kg" < c."reorderPointKg"
       order by s."kg" / nullif(c."reorderPointKg", 0), c."code" limit ${MAX_WAITING}`),
  checks: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('lot', sql`l."id"`)} as "page", l."number" as "title", concat_ws(', ', p."number", l."quantity" - l."acceptedCount" - l."rejectedCount" || ' pieces') as "detail",
             l."dueDate"::text as "when", l."dueDate" <= ${day}::date as "urgent", ${colourOfLot} as "colour", count(*) over ()::int as "total"
        from "lot" l join "part" p on p."id" = l."partId"
       where l."status" = 'finished' and not l."held" order by l."dueDate", l."id" limit ${MAX_WAITING}`),
  shipments: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('lot', sql`l."id"`)} as "page", concat(l."number", ': ', l."acceptedCount" - l."shippedCount", ' pieces to ship') as "title",
             c."name" as "detail", l."dueDate"::text as "when", l."dueDate" <= ${day}::date as "urgent", ${colourOfLot} as "colour", count(*) over ()::int as "total"
        from "lot" l join "part" p on p."id" = l."partId" join "customer" c on c."id" = p."customerId"
       -- The few are known by their own index first: the planner guesses that every third lot waits, and would read them all.
       where l."id" = any(array(
         select "id" from "lot" where "status" <> 'cancelled' and not "held" and "acceptedCount" > "shippedCount"))
       order by l."dueDate", l."id" limit ${MAX_WAITING}`),
  releases: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('order', sql`o."id"`)} as "page", concat(o."number", ' line ', ol."position", ': ', x."here", ' pieces') as "title",
             concat_ws(', ', c."name", p."number", case when ol."receivedCount" is null then 'not received yet'
               when ol."receivedCount" < ol."quantity" then concat(ol."quantity" - ol."receivedCount", ' still to come') end) as "detail",
             ol."dueDate"::text as "when", ol."dueDate" <= ${day}::date + 3 as "urgent", count(*) over ()::int as "total"
        from "order_line" ol
        join "customer_order" o on o."id" = ol."orderId" and o."status" = 'open'
        join "customer" c on c."id" = o."customerId"
        join "part" p on p."id" = ol."partId"
        cross join lateral (
          select least(ol."quantity", coalesce(ol."receivedCount", ol."quantity")) - coalesce(sum("quantity"), 0)::int as "here"
            from "lot" where "orderLineId" = ol."id" and "status" <> 'cancelled') x
       where ol."cancelledAt" is null and x."here" > 0
       order by ol."dueDate", ol."id" limit ${MAX_WAITING}`),
  deliveries: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('order', sql`o."id"`)} as "page", concat(o."number", ' line ', ol."position", ', ', c."name") as "title",
             concat(x."shipped", ' of ', ol."quantity", ' shipped', case when x."rejected" > 0 then concat(', ', x."rejected", ' rejected') end) as "detail", ol."dueDate"::text as "when",
             ol."dueDate" <= ${day}::date as "urgent", count(*) over ()::int as "total"
        from "order_line" ol
        join "customer_order" o on o."id" = ol."orderId" and o."status" = 'open'
        join "customer" c on c."id" = o."customerId"
        cross join lateral (
          select coalesce(sum("shippedCount"), 0)::int as "shipped", coalesce(sum("rejectedCount"), 0)::int as "rejected"
            from "lot" where "orderLineId" = ol."id" and "status" <> 'cancelled') x
       where ol."cancelledAt" is null and x."shipped" + x."rejected" < ol."quantity" and ol."dueDate" <= ${day}::date + 7
       order by ol."dueDate", ol."id" limit ${MAX_WAITING}`),
  /** Open enquiries that nobody answered for days. */
  enquiries: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('enquiry', sql`e."id"`)} as "page", concat(e."number", ', ', coalesce(c."name", e."customerName")) as "title",
             concat(o."displayName", ': ', left(e."words", 120)) as "detail",
             to_char(e."createdAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when",
             coalesce(e."dueOn" <= ${day}::date, false) as "urgent", count(*) over ()::int as "total"
        from "enquiry" e join "person" o on o."id" = e."ownerId" left join "customer" c on c."id" = e."customerId"
       where e."status" = 'open' and e."createdAt" < now() - make_interval(days => ${ENQUIRY_ANSWER_DAYS}::int)
       order by e."createdAt", e."id" limit ${MAX_WAITING}`),
  /** Samples that are due back within a week, or were. */
  borrowedSamples: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('enquiry', sql`e."id"`)} as "page", concat(e."sampleName", ', ', coalesce(c."name", e."customerName")) as "title",
             concat_ws('; ', e."number", 'kept ' || nullif(e."sampleKeptAt", ''), o."displayName") as "detail",
             e."sampleDueBackOn"::text as "when", e."sampleDueBackOn" <= ${day}::date as "urgent", count(*) over ()::int as "total"
        from "enquiry" e join "person" o on o."id" = e."ownerId" left join "customer" c on c."id" = e."customerId"
       where e."sampleName" <> '' and e."sampleReturnedOn" is null and e."sampleDueBackOn" <= ${day}::date + 7
       order by e."sampleDueBackOn", e."id" limit ${MAX_WAITING}`),
  /** Trials that no coupons are made for yet. */
  trialsAsked: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('enquiry', sql`e."id"`)} as "page",
             concat_ws(', ', e."number", nullif(e."colourName", ''), concat_ws(', ', m."name", nullif(m."condition", ''))) as "title",
             d."reason" as "detail", e."dueOn"::text as "when", coalesce(e."dueOn" <= ${day}::date + 7, false) as "urgent",
             count(*) over ()::int as "total"
        from "enquiry" e
        left join "material" m on m."id" = e."materialId"
        left join lateral (
          select "reason" from "enquiry_decision" where "enquiryId" = e."id" order by "id" desc limit 1) d on true
       where e."status" = 'trial-asked' and e."seriesId" is null
       order by e."id" limit ${MAX_WAITING}`),
  quotations: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('quotation', sql`q."id"`)} as "page", concat(q."number", ' revision ', r."revision") as "title", c."name" as "detail",
             r."validUntil"::text as "when", r."validUntil" <= ${day}::date + 2 as "urgent", count(*) over ()::int as "total"
        from "quotation_revision" r join "quotation" q on q."id" = r."quotationId" join "customer" c on c."id" = q."customerId"
       where r."status" = 'sent' and r."validUntil" between ${day}::date and ${day}::date + 10
       order by r."validUntil", q."id" limit ${MAX_WAITING}`),
  expiredQuotations: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('quotation', sql`q."id"`)} as "page", concat(q."number", ' revision ', r."revision") as "title", c."name" as "detail",
             r."validUntil"::text as "when", false as "urgent",
             (select count(*)::int from "quotation_revision" where "status" = 'sent' and "validUntil" < ${day}::date) as "total"
        from (select "quotationId", "revision", "validUntil" from "quotation_revision"
               where "status" = 'sent' and "validUntil" < ${day}::date
               order by "validUntil" desc, "quotationId" limit ${MAX_WAITING}) r
        join "quotation" q on q."id" = r."quotationId" join "customer" c on c."id" = q."customerId"
       order by r."validUntil" desc, q."id"`),
  /** Evidence that expires within a month, or did, behind a revision in force, with the offers and lots that rest on it. */
  evidence: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('recipe', sql`x."recipeId"`)} as "page",
             concat(coalesce(s."code" || ' rev ' || s."revision", e."lotNumber"), ' behind ', r."number", ' rev ', x."revision") as "title",
             concat_ws('; ', concat_ws(', ', e."alloy", nullif(e."condition", '')),
               'quoted on ' || q."numbers", 'lots ' || l."numbers") as "detail",
             e."expiresOn"::text as "when", e."expiresOn" <= ${day}::date as "urgent", count(*) over ()::int as "total"
        from "recipe_evidence" e
        join "recipe_revision" x on x."id" = e."revisionId" and x."status" = 'approved'
        join "recipe" r on r."id" = x."recipeId"
        left join "coupon_series" s on s."id" = e."seriesId"
        cross join lateral (
          select string_agg(distinct q."number", ', ') as "numbers"
            from "quotation_line" ql
            join "quotation_revision" qr on qr."id" = ql."revisionId" and qr."status" in ('draft', 'sent')
            join "quotation" q on q."id" = qr."quotationId"
            join "part" p on p."id" = ql."partId"
           where ql."recipeRevisionId" = x."id" and p."materialId" = e."materialId") q
        cross join lateral (
          select string_agg(l."number", ', ' order by l."id") as "numbers"
            from "lot" l join "part" p on p."id" = l."partId"
           where l."recipeRevisionId" = x."id" and p."materialId" = e."materialId" and l."status" in ('released', 'running')) l
       where e."withdrawnAt" is null and e."expiresOn" <= ${day}::date + 30
       order by e."expiresOn", e."id" limit ${MAX_WAITING}`),
  /** Colour standards in force that expire within a month, or did, with the offers and lots whose colour is held to them. */
  colourStandards: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('colourStandard', sql`s."id"`)} as "page", concat(s."code", ' rev ', r."revision", ', ', r."name") as "title",
             concat_ws('; ', coalesce(c."name", 'the shop’s own'), 'quoted on ' || q."numbers", 'lots ' || l."numbers") as "detail",
             r."expiresOn"::text as "when", r."expiresOn" <= ${day}::date as "urgent", count(*) over ()::int as "total"
        from "colour_standard_revision" r
        join "colour_standard" s on s."id" = r."standardId"
        left join "customer" c on c."id" = s."customerId"
        ${touched(sql`array[s."id"]`)}
       where r."status" = 'approved' and r."expiresOn" <= ${day}::date + 30
       order by r."expiresOn", s."id" limit ${MAX_WAITING}`),
  /** Shipments of lines that were promised a certificate, and have none that stands. */
  certificates: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('shipmentToCertify', sql`h."id"`)} as "page", concat(h."number", ', lot ', l."number") as "title",
             concat(h."quantity", ' pieces for ', l."snapshot" -> 'customer' ->> 'name') as "detail",
             to_char(h."shippedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", false as "urgent", count(*) over ()::int as "total"
        from "certificate_due" d
        join "shipment" h on h."id" = d."shipmentId"
        join "lot" l on l."id" = h."lotId"
       order by h."shippedAt", h."id" limit ${MAX_WAITING}`),
  /** Shipments that stand on no delivery note. */
  deliveryNotes: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('shipmentToDeliver', sql`h."id"`)} as "page", concat(h."number", ', lot ', l."number") as "title",
             concat(h."quantity", ' pieces for ', l."snapshot" -> 'customer' ->> 'name') as "detail",
             to_char(h."shippedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", false as "urgent", count(*) over ()::int as "total"
        from "delivery_due" d
        join "shipment" h on h."id" = d."shipmentId"
        join "lot" l on l."id" = h."lotId"
       order by h."shippedAt", h."id" limit ${MAX_WAITING}`),
  /** Invoices past their day that are not paid in full. */
  overdueInvoices: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('invoice', sql`i."id"`)} as "page", concat(i."number", ', ', i."facts" -> 'customer' ->> 'name') as "title",
             concat(i."currency", ' ', x."open", ' open') as "detail", i."dueOn"::text as "when", true as "urgent", count(*) over ()::int as "total"
        from "invoice" i
        cross join lateral (
          select i."gross" - (select coalesce(sum(c."gross"), 0) from "invoice" c where c."creditsId" = i."id" and c."issuedAt" is not null)
               - (select coalesce(sum(p."amount"), 0) from "payment" p where p."invoiceId" = i."id" and p."withdrawnAt" is null) as "open") x
       where i."kind" = 'invoice' and i."dueOn" < ${day}::date and x."open" > 0
       order by i."dueOn", i."id" limit ${MAX_WAITING}`),
  /** Open nonconformances, those whose pieces nobody decided about first. */
  nonconformances: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('nonconformance', sql`n."id"`)} as "page", concat(n."number", ', lot ', n."record" -> 'lot' ->> 'number') as "title",
             concat_ws('; ', n."record" -> 'customer' ->> 'name', concat(n."piecesAffected", ' pieces: ', n."description")) as "detail",
             to_char(n."openedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when",
             n."piecesAffected" > d."decided" as "urgent", count(*) over ()::int as "total"
        from "nonconformance" n
        cross join lateral (
          select coalesce(sum(x."pieces"), 0) as "decided" from "nonconformance_disposition" x where x."nonconformanceId" = n."id") d
       where n."state" = 'open' order by "urgent" desc, n."id" limit ${MAX_WAITING}`),
  /** Open impact assessments, those of whoever asks first; overdue ones are urgent. */
  assessments: (execute: SqlExecutor, day: string, personId: number) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('assessment', sql`a."id"`)} as "page", concat_ws(', ', a."number", nullif(a."aboutName", '')) as "title",
             concat(a."snapshot" ->> 'owner', ': ', a."reason") as "detail", a."dueOn"::text as "when",
             a."dueOn" < ${day}::date as "urgent", count(*) over ()::int as "total"
        from "impact_assessment" a where a."state" = 'open'
       order by a."ownerId" = ${personId} desc, a."dueOn", a."id" limit ${MAX_WAITING}`),
  /** Characteristics whose inspection stopped after too many rejected samples: nothing of the part is accepted or shipped. */
  stoppedInspections: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('part', sql`p."id"`)} as "page", concat(p."number", ': ', m."name") as "title",
             concat('discontinued: ', m."because", '; nothing of it is accepted or shipped') as "detail",
             to_char(m."at" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", true as "urgent", count(*) over ()::int as "total"
        from (select distinct on ("customerId", "partNumber", lower("name")) * from "inspection_severity"
               order by "customerId", "partNumber", lower("name"), "id" desc) m
        cross join lateral (
          select x."id", x."number" from "part" x where x."customerId" = m."customerId" and x."number" = m."partNumber"
           order by x."id" desc limit 1) p
       where m."severity" = 'stopped' order by m."id" limit ${MAX_WAITING}`),
  /** Actions of whoever asks that are due within a week or overdue; those who close nonconformances see everybody’s that are overdue. */
  actions: (execute: SqlExecutor, day: string, personId: number) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('nonconformance', sql`n."id"`)} as "page", concat(n."number", ': ', a."text") as "title",
             concat('of ', a."snapshot" ->> 'owner') as "detail", a."dueOn"::text as "when", a."dueOn" < ${day}::date as "urgent",
             count(*) over ()::int as "total"
        from "nonconformance" n
        join "nonconformance_entry" a on a."nonconformanceId" = n."id" and a."kind" = 'action'
       where n."state" = 'open'
         and not exists (select from "nonconformance_entry" x where x."actionId" = a."id" and x."kind" = 'action-done')
         and (a."ownerId" = ${personId} and a."dueOn" <= ${day}::date + 7
              or a."dueOn" < ${day}::date
                 and exists (select from "person" p where p."id" = ${personId} and p."roles" && ${[...permissions['inspection.write']]}::text[]))
       order by a."dueOn", a."id" limit ${MAX_WAITING}`),
  /** Colour meters due for calibration within a fortnight, or overdue, with the offers and lots of the colours that they read this year. */
  colourMeters: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('instrument', sql`i."id"`)} as "page", concat(i."code", ' ', i."name") as "title",
             concat_ws('; ', case when i."calibrationDueOn" < ${day}::date
                 then 'overdue: what it reads is marked so' else 'due for calibration' end,
               'quoted on ' || q."numbers", 'lots ' || l."numbers") as "detail",
             i."calibrationDueOn"::text as "when", i."calibrationDueOn" < ${day}::date as "urgent", count(*) over ()::int as "total"
        from "instrument" i
        cross join lateral (
          select array_agg(distinct v."standardId") as "ids"
            from "colour_reading" c join "colour_standard_revision" v on v."id" = c."standardRevisionId"
           where c."instrumentId" = i."id" and c."readAt" > ${day}::date - 365) standards
        ${touched(sql`standards."ids"`)}
       where i."kind" = 'colour-meter' and i."archivedAt" is null and i."calibrationDueOn" <= ${day}::date + 14
       order by i."calibrationDueOn", i."id" limit ${MAX_WAITING}`),
  /** Competence that ends within a month, or ended within the last three and was not granted anew; of people who still work here. */
  competence: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('person', sql`p."id"`)} as "page", p."displayName" as "title",
             concat(case c."activity" when 'sign' then 'run and sign steps' when 'analyse' then 'analyse baths' else 'approve recipes' end, ', ',
               coalesce(replace(c."family", '-', ' '), 'every family')) as "detail",
             c."untilOn"::text as "when", c."untilOn" < ${day}::date as "urgent", count(*) over ()::int as "total"
        from "competence" c join "person" p on p."id" = c."personId" and p."active"
       where c."withdrawnAt" is null and c."untilOn" between ${day}::date - 90 and ${day}::date + ${COMPETENCE_ENDS_SOON_DAYS}::int
         and not exists (select from "competence" n
                          where n."personId" = c."personId" and n."activity" = c."activity" and n."withdrawnAt" is null
                            and (n."family" is null or n."family" = c."family") and n."id" <> c."id"
                            and (n."untilOn" is null or n."untilOn" > c."untilOn"))
       order by c."untilOn", c."id" limit ${MAX_WAITING}`),
  /** Instruments that failed, and those of other kinds that are due for calibration within a fortnight, or overdue. */
  instruments: (execute: SqlExecutor, day: string) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('instrument', sql`i."id"`)} as "page", concat(i."code", ' ', i."name") as "title",
             case f."fault" when 'failed' then 'failed: nothing is measured with it until it passes, and what it read is in doubt'
                            when 'overdue' then 'overdue: what it reads is marked so' else 'due for calibration' end as "detail",
             i."calibrationDueOn"::text as "when", f."fault" is not null as "urgent", count(*) over ()::int as "total"
        from "instrument" i cross join lateral (select instrument_fault_on(i."id", ${day}::date) as "fault") f
       where i."archivedAt" is null
         and (f."fault" = 'failed' or i."kind" <> 'colour-meter' and i."calibrationDueOn" <= ${day}::date + 14)
       order by f."fault" = 'failed' desc nulls last, i."calibrationDueOn", i."id" limit ${MAX_WAITING}`),
  /** Colour standards in force that were taken over from parts: nothing is promised by them before somebody confirms them. */
  unconfirmedStandards: (execute: SqlExecutor) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('colourStandard', sql`s."id"`)} as "page", concat(s."code", ' rev ', r."revision", ', ', r."name") as "title",
             concat_ws('; ', coalesce(c."name", 'the shop’s own'), 'taken over from ' || r."takenOverFrom") as "detail",
             null as "when", false as "urgent", count(*) over ()::int as "total"
        from "colour_standard_revision" r
        join "colour_standard" s on s."id" = r."standardId"
        left join "customer" c on c."id" = s."customerId"
       where r."status" = 'approved' and r."takenOverFrom" <> ''
         and not exists (select from "colour_standard_confirmation" k where k."revisionId" = r."id")
       order by s."id" limit ${MAX_WAITING}`),
  approvals: (execute: SqlExecutor, _day: string, personId: number) =>
    execute<WaitingRow & { total: number }>(sql`
      select ${pageOf('recipe', sql`re."id"`)} as "page", concat(re."number", ' revision ', r."revision") as "title", re."name" as "detail",
             to_char(r."createdAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as "when", false as "urgent", count(*) over ()::int as "total"
        from "recipe_revision" r join "recipe" re on re."id" = r."recipeId"
       where r."status" = 'draft'
         -- An author approves where the shop allows it and nobody else is there to do it.
         and (r."authorId" <> ${personId}
              or (select s."selfApproval" from "shop" s)
                 and not exists (select from "person" p
                                  where p."active" and p."passwordHash" is not null and p."id" <> ${personId}
                                    and p."roles" && ${[...permissions['recipes.approve']]}::text[]))
         -- A copy that nobody has edited yet waits for its writer, not for approval.
         and (r."revision" = 1 or r."version" > 1)
       order by r."createdAt" limit ${MAX_WAITING}`),
};
