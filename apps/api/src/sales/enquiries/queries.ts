import type { Enquiry, EnquiryItem, EnquiryStatus, NewEnquiry } from '@huelot/contracts';
import { permissions } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, keyset } from '../../db/lists.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

export type EnquiryRow = Omit<z.input<typeof Enquiry>, 'pictures'> & { pictureIds: number[] };

export const readEnquiry = async (execute: SqlExecutor, id: number): Promise<EnquiryRow | null> =>
  (
    await execute<EnquiryRow>(sql`
      select e."id", e."number", e."status", e."customerName", e."contact", e."words", e."colourName", e."baseMetal", e."quantity",
             e."dueOn"::text as "dueOn", e."version", ${instant(sql`e."createdAt"`)} as "createdAt",
             case when c."id" is not null then jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name") end as "customer",
             case when e."labL" is not null then jsonb_build_object('L', e."labL", 'a', e."labA", 'b', e."labB") end as "colour",
             agreed_colour(e."colourStandardId") as "standard",
             case when m."id" is not null then jsonb_build_object('id', m."id", 'name', m."name", 'condition', m."condition",
               'baseMetal', m."baseMetal") end as "material",
             case when e."sampleName" <> '' then jsonb_build_object('name', e."sampleName", 'keptAt', e."sampleKeptAt",
               'dueBackOn', e."sampleDueBackOn"::text, 'returnedOn', e."sampleReturnedOn"::text) end as "sample",
             jsonb_build_object('id', o."id", 'displayName', o."displayName") as "owner", w."displayName" as "createdBy",
             case when s."id" is not null then jsonb_build_object('id', s."id", 'code', s."code", 'revision', s."revision",
               'name', s."name", 'status', s."status") end as "series",
             case when q."id" is not null then jsonb_build_object('id', q."id", 'number', q."number") end as "quotation",
             (select coalesce(jsonb_agg(p."fileId" order by p."position"), '[]'::jsonb)
                from "enquiry_picture" p where p."enquiryId" = e."id") as "pictureIds",
             (select coalesce(jsonb_agg(jsonb_build_object('id', d."id", 'status', d."status", 'reason', d."reason",
                       'record', d."record", 'by', d."snapshot" ->> 'by', 'at', ${instant(sql`d."at"`)}) order by d."id" desc), '[]'::jsonb)
                from "enquiry_decision" d where d."enquiryId" = e."id") as "decisions"
        from "enquiry" e
        join "person" o on o."id" = e."ownerId"
        join "person" w on w."id" = e."createdById"
        left join "customer" c on c."id" = e."customerId"
        left join "material" m on m."id" = e."materialId"
        left join "coupon_series" s on s."id" = e."seriesId"
        left join "quotation" q on q."id" = e."quotationId"
       where e."id" = ${id}`)
  )[0] ?? null;

export const lockEnquiry = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "enquiry" where "id" = ${id} for update`);

const columns = {
  createdAt: { column: sql`e."id"`, kind: 'number' },
  due: { column: sql`coalesce(e."dueOn"::text, '9999')`, kind: 'string' },
} as const;

export interface ItemsAsked {
  search?: string | undefined;
  status?: EnquiryStatus | undefined;
  customerId?: number | undefined;
  ownerId?: number | undefined;
  sort?: 'createdAt' | '-createdAt' | 'due' | '-due' | undefined;
  after: string | undefined;
  limit: number;
}
/** Enquiries of a list, one more than the page holds. */
export function readItems(
  execute: SqlExecutor,
  { search, status, customerId, ownerId, sort = '-createdAt', after, limit }: ItemsAsked,
) {
  const at = keyset({ sort, columns, id: sql`e."id"`, after });
  const like = search ? containing(search) : null;
  return execute<z.input<typeof EnquiryItem> & { sortValue: string | number }>(sql`
    select e."id", e."number", e."status", coalesce(c."name", e."customerName") as "customer", e."words",
           coalesce(nullif(e."colourName", ''), agreed_colour(e."colourStandardId") ->> 'name', '') as "colourName",
           case when e."labL" is not null then jsonb_build_object('L', e."labL", 'a', e."labA", 'b', e."labB")
             else nullif(agreed_colour(e."colourStandardId") -> 'target', 'null') end as "colour",
           coalesce(concat_ws(', ', m."name", nullif(m."condition", '')), '') as "metal",
           e."quantity", e."dueOn"::text as "dueOn", o."displayName" as "owner", q."number" as "quotation",
           case when e."sampleName" <> '' and e."sampleReturnedOn" is null then e."sampleDueBackOn"::text end as "sampleDueOn",
           case when e."status" = 'declined' then (
             select d."reason" from "enquiry_decision" d where d."enquiryId" = e."id" order by d."id" desc limit 1) else '' end as "reason",
           ${instant(sql`e."createdAt"`)} as "createdAt", ${at.value} as "sortValue"
      from "enquiry" e
      join "person" o on o."id" = e."ownerId"
      left join "customer" c on c."id" = e."customerId"
      left join "material" m on m."id" = e."materialId"
      left join "quotation" q on q."id" = e."quotationId"
     where true
       ${status === undefined ? Prisma.empty : sql`and e."status" = ${status}`}
       ${customerId === undefined ? Prisma.empty : sql`and e."customerId" = ${customerId}`}
       ${ownerId === undefined ? Prisma.empty : sql`and e."ownerId" = ${ownerId}`}
       ${like === null ? Prisma.empty : sql`and (e."number" || ' ' || coalesce(c."name", e."customerName") || ' ' || e."words" || ' ' || e."colourName") ilike ${like}`}
       ${at.start}
     order by ${at.order} limit ${limit + 1}`);
}

/** An enquiry as its row keeps it. */
function rowOf({ colour, sample, dueOn, pictureIds: _, ...facts }: NewEnquiry) {
  const day = (text: string | null | undefined) => (text ? new Date(`${text}T00:00:00Z`) : null);
  return {
    ...facts,
    customerName: facts.customerName.trim(),
    dueOn: day(dueOn),
    labL: colour?.L ?? null,
    labA: colour?.a ?? null,
    labB: colour?.b ?? null,
    sampleName: sample?.name ?? '',
    sampleKeptAt: sample?.keptAt ?? '',
    sampleDueBackOn: day(sample?.dueBackOn),
    sampleReturnedOn: day(sample?.returnedOn),
  };
}
export const addEnquiry = (
  db: Queryable,
  { number, createdById, input }: { number: string; createdById: number; input: NewEnquiry },
) => db.prisma.enquiry.create({ data: { ...rowOf(input), number, createdById }, select: { id: true } });
export const changeEnquiry = (db: Queryable, id: number, input: NewEnquiry) =>
  db.prisma.enquiry.update({
    where: { id },
    data: { ...rowOf(input), version: { increment: 1 } },
    select: { id: true },
  });
export async function replacePictures(db: Queryable, enquiryId: number, fileIds: readonly number[]) {
  await db.prisma.enquiryPicture.deleteMany({ where: { enquiryId } });
  await db.prisma.enquiryPicture.createMany({
    data: fileIds.map((fileId, position) => ({ enquiryId, fileId, position })),
  });
}

export interface NewDecision {
  status: EnquiryStatus;
  reason: string;
  record: string;
  personId: number;
}
/** Moves an enquiry on and keeps who moved it, and why. */
export async function addDecision(
  db: Queryable,
  id: number,
  {
    moved,
    ...decision
  }: NewDecision & { moved: { seriesId?: number | null; quotationId?: number | null; customerId?: number } },
) {
  await db.prisma.enquiry.update({
    where: { id },
    data: {
      ...moved,
      ...(moved.customerId === undefined ? {} : { customerName: '' }),
      status: decision.status,
      version: { increment: 1 },
    },
    select: { id: true },
  });
  await db.prisma.enquiryDecision.create({ data: { ...decision, enquiryId: id }, select: { id: true } });
}
export const setSeries = (db: Queryable, id: number, seriesId: number) =>
  db.prisma.enquiry.update({
    where: { id },
    data: { seriesId, version: { increment: 1 } },
    select: { id: true },
  });

/** What an enquiry names, by what there is: a missing one is refused at its field. */
export async function readNamed(
  execute: SqlExecutor,
  named: Pick<NewEnquiry, 'customerId' | 'colourStandardId' | 'materialId' | 'ownerId'>,
) {
  const [row] = await execute<{
    customer: boolean;
    standard: { customerId: number | null } | null;
    material: { baseMetal: string } | null;
    owner: boolean;
  }>(sql`
    select exists (select from "customer" where "id" = ${named.customerId}::int and "archivedAt" is null and "mergedIntoId" is null) as "customer",
           (select jsonb_build_object('customerId', "customerId") from "colour_standard" where "id" = ${named.colourStandardId}::int) as "standard",
           (select jsonb_build_object('baseMetal', "baseMetal") from "material" where "id" = ${named.materialId}::int) as "material",
           exists (select from "person" where "id" = ${named.ownerId} and "active"
                     and "roles" && ${[...permissions['enquiries.write']]}::text[]) as "owner"`);
  if (row === undefined) throw new Error('one row was asked for');
  return row;
}
export const readOwners = (execute: SqlExecutor) =>
  execute<Enquiry['owner']>(sql`
    select "id", "displayName" from "person"
     where "active" and "roles" && ${[...permissions['enquiries.write']]}::text[] order by "displayName", "id"`);

export const readSeries = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{ id: number; code: string; revision: number; status: string }>(
      sql`select "id", "code", "revision", "status" from "coupon_series" where "id" = ${id}`,
    )
  )[0] ?? null;
export const readIdOfQuotation = async (execute: SqlExecutor, quotationId: number): Promise<number | null> =>
  (await execute<{ id: number }>(sql`select "id" from "enquiry" where "quotationId" = ${quotationId}`))[0]
    ?.id ?? null;
