import type { CertificateItem, CertificateState, CertifiedFacts } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** The lot that a shipment is of, with the shipment held: nobody certifies it twice at once. */
export const lockShipment = async (execute: SqlExecutor, id: number): Promise<{ lotId: number } | null> =>
  (await execute<{ lotId: number }>(sql`select "lotId" from "shipment" where "id" = ${id} for update`))[0] ??
  null;
export const readLotOfShipment = async (
  execute: SqlExecutor,
  id: number,
): Promise<{ lotId: number } | null> =>
  (await execute<{ lotId: number }>(sql`select "lotId" from "shipment" where "id" = ${id}`))[0] ?? null;

const state = sql`case when c."withdrawnAt" is not null then 'withdrawn' when n."id" is not null then 'replaced' else 'stands' end`;
/** What was put right or called in question of the lot of `c` after it was signed. */
const since = sql`
  select case when r."withdrawn" then 'a colour reading was withdrawn' else 'a colour reading was corrected' end as "what",
         r."reason", r."snapshot" ->> 'readBy' as "by", r."readAt" as "at"
    from "colour_reading" r where r."lotId" = c."lotId" and r."correctsId" is not null and r."readAt" > c."signedAt"
   union all
  select concat('a reading of step ', st."position", ', ', st."title", ', was corrected'), k."reason", k."snapshot" ->> 'correctedBy', k."correctedAt"
    from "step_sign_off" s join "step_correction" k on k."signOffId" = s."id" join "traveler_step" st on st."id" = s."stepId"
   where s."lotId" = c."lotId" and k."correctedAt" > c."signedAt"
   union all
  select concat('its lot was judged affected in ', a."number"), e."text", e."snapshot" ->> 'by', e."at"
    from (select distinct on (x."assessmentId") x.* from "assessment_entry" x
           where x."lotId" = c."lotId" and x."kind" = 'judgement' order by x."assessmentId", x."id" desc) e
    join "impact_assessment" a on a."id" = e."assessmentId"
   where e."affected" and e."at" > c."signedAt"`;
const underReview = sql`c."withdrawnAt" is null and n."id" is null and exists (${since})`;
const head = sql`
  c."id", c."number", c."revision", ${state} as "state", c."facts" -> 'customer' ->> 'name' as "customer",
  concat(c."facts" -> 'part' ->> 'number', ' rev ', c."facts" -> 'part' ->> 'revision') as "part",
  (c."facts" -> 'shipment' ->> 'quantity')::int as "quantity",
  jsonb_build_object('id', c."shipmentId", 'number', c."facts" -> 'shipment' ->> 'number') as "shipment",
  jsonb_build_object('id', c."lotId", 'number', c."facts" -> 'lot' ->> 'number') as "lot",
  ${underReview} as "underReview", c."snapshot" ->> 'signedBy' as "signedBy", c."signedAt"`;
const from = sql`"certificate" c left join "certificate" n on n."replacesId" = c."id"`;

interface Signed {
  signedAt: Date;
}
export type ItemRow = Omit<CertificateItem, 'signedAt'> & Signed;
export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    lotId?: number | undefined;
    state?: CertificateState | undefined;
    after: number | null;
    limit: number;
  },
) =>
  execute<ItemRow>(sql`
    select ${head} from ${from} where true
      ${filter.lotId === undefined ? Prisma.empty : sql`and c."lotId" = ${filter.lotId}`}
      ${filter.state === undefined ? Prisma.empty : sql`and ${state} = ${filter.state}`}
      ${
        filter.search
          ? sql`and concat_ws(' ', c."number", c."facts" -> 'lot' ->> 'number', c."facts" -> 'shipment' ->> 'number',
                  c."facts" -> 'customer' ->> 'name', c."facts" -> 'part' ->> 'number') ilike ${containing(filter.search)}`
          : Prisma.empty
      }
      ${filter.after === null ? Prisma.empty : sql`and c."id" < ${filter.after}`}
     order by c."id" desc limit ${filter.limit + 1}`);

export interface CertificateRow extends ItemRow {
  facts: CertifiedFacts;
  concerns: string[];
  statement: string;
  deviations: string;
  jobTitle: string;
  checkCode: string;
  reason: string;
  replaces: { id: number; number: string; revision: number } | null;
  replacedBy: { id: number; number: string; revision: number; reason: string } | null;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
  since: { what: string; reason: string; by: string; at: string }[];
  sha256: string;
}
/** The digest is that of the paper: it is kept in the transaction that signs. */
const digest = sql`(select encode(p."sha256", 'hex') from "issued_paper" p where p."kind" = 'certificate' and p."recordId" = c."id" and p."issue" = 1)`;
export const readCertificate = async (execute: SqlExecutor, id: number): Promise<CertificateRow | null> =>
  (
    await execute<CertificateRow>(sql`
      select ${head}, c."facts", c."concerns", c."statement", c."deviations", c."jobTitle", c."checkCode", c."reason",
             case when o."id" is not null then jsonb_build_object('id', o."id", 'number', o."number", 'revision', o."revision") end as "replaces",
             case when n."id" is not null then jsonb_build_object('id', n."id", 'number', n."number", 'revision', n."revision", 'reason', n."reason") end
               as "replacedBy",
             c."snapshot" ->> 'withdrawnBy' as "withdrawnBy", c."withdrawnAt", c."withdrawReason", ${digest} as "sha256",
             (select coalesce(jsonb_agg(jsonb_build_object('what', z."what", 'reason', z."reason", 'by', z."by",
                       'at', to_char(z."at" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) order by z."at"), '[]'::jsonb) from (${since}) z)
               as "since"
        from ${from} left join "certificate" o on o."id" = c."replacesId" where c."id" = ${id}`)
  )[0] ?? null;
/** The newest certificate of a shipment. */
export const readLast = async (execute: SqlExecutor, shipmentId: number) =>
  (
    await execute<{ id: number; number: string; revision: number; state: CertificateState }>(sql`
      select c."id", c."number", c."revision", ${state} as "state" from ${from}
       where c."shipmentId" = ${shipmentId} order by c."revision" desc limit 1`)
  )[0] ?? null;
export const readByCode = async (execute: SqlExecutor, code: string) =>
  (
    await execute<{
      number: string;
      revision: number;
      state: CertificateState;
      underReview: boolean;
      sha256: string;
    }>(sql`
      select c."number", c."revision", ${state} as "state", ${underReview} as "underReview", ${digest} as "sha256" from ${from} where c."checkCode" = ${code}`)
  )[0] ?? null;

export interface NewCertificate {
  number: string;
  revision: number;
  shipmentId: number;
  lotId: number;
  facts: CertifiedFacts;
  concerns: string[];
  statement: string;
  deviations: string;
  jobTitle: string;
  checkCode: string;
  replacesId: number | null;
  reason: string;
  signedById: number;
}
export const addCertificate = (db: Queryable, { facts, ...data }: NewCertificate) =>
  db.prisma.certificate.create({
    data: { ...data, facts: facts },
    select: { id: true, signedAt: true },
  });
export const lockCertificate = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "certificate" where "id" = ${id} for update`);
export const withdraw = (db: Queryable, id: number, by: { personId: number; reason: string }) =>
  db.prisma.certificate.update({
    where: { id },
    data: { withdrawnById: by.personId, withdrawnAt: new Date(), withdrawReason: by.reason },
    select: { id: true },
  });

/** What happened to the certificates of a lot: signed, and withdrawn. */
export const readCertificateEvents = (execute: SqlExecutor, lotId: number) =>
  execute<{ number: string; revision: number; at: Date; by: string; withdrawn: boolean; why: string }>(sql`
    select c."number", c."revision", c."signedAt" as "at", c."snapshot" ->> 'signedBy' as "by", false as "withdrawn", c."deviations" as "why"
      from "certificate" c where c."lotId" = ${lotId}
     union all
    select c."number", c."revision", c."withdrawnAt", c."snapshot" ->> 'withdrawnBy', true, c."withdrawReason"
      from "certificate" c where c."lotId" = ${lotId} and c."withdrawnAt" is not null`);

/** From a shipment on, while its order line was promised a certificate, and again where one was withdrawn. */
export const askForCertificate = (execute: SqlExecutor, shipmentId: number) =>
  execute(sql`
    insert into "certificate_due" ("shipmentId")
    select h."id" from "shipment" h join "lot" l on l."id" = h."lotId" join "order_line" o on o."id" = l."orderLineId"
     where h."id" = ${shipmentId} and o."certificate"
        on conflict do nothing`);
export const endCertificateDue = (execute: SqlExecutor, shipmentId: number) =>
  execute(sql`delete from "certificate_due" where "shipmentId" = ${shipmentId}`);
