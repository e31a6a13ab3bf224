import type {
  AgreedColour,
  ColourStandard,
  ColourStandardItem,
  NewColourStandard,
  RevisionStatus,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import type { RevisionFate } from '../../core/people/index.ts';

export interface StandardRow extends Omit<
  ColourStandardItem,
  keyof AgreedColour | 'createdAt' | 'approvedAt'
> {
  colour: Omit<ColourStandardItem, Exclude<keyof ColourStandardItem, keyof AgreedColour>>;
  photoId: number | null;
  notes: string;
  changeNote: string;
  createdAt: Date;
  approvedAt: Date | null;
  endedAt: Date | null;
  endReason: string;
  confirmation: ColourStandard['confirmation'];
  writers: ColourStandard['writers'];
}
const today = sql`(select (now() at time zone "timeZone")::date from "shop")`;
/** Whether a part `p` points to a standard, for the whole of it or for one of its zones. */
const pointsTo = (standardId: Prisma.Sql) =>
  sql`(p."colourStandardId" = ${standardId} or exists (
    select 1 from "part_zone" z where z."partId" = p."id" and z."colourStandardId" = ${standardId}))`;
const pointing = sql`"part" p where ${pointsTo(sql`s."id"`)} and p."successorId" is null and p."archivedAt" is null`;
const standard = sql`
  select agreed_colour(r) as "colour", r."photoId", r."notes", r."changeNote", r."takenOverFrom", r."createdAt", r."approvedAt",
         r."selfApproved", r."endedAt", r."endReason", r."version", coalesce(r."expiresOn" < ${today}, false) as "expired",
         case when c."id" is not null then jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name") end as "customer",
         (select count(*)::int from ${pointing}) as "partCount",
         coalesce(r."snapshot" ->> 'author', '') as "author", r."snapshot" ->> 'approvedBy' as "approvedBy",
         (select jsonb_build_object('by', f."snapshot" ->> 'by', 'grounds', f."grounds",
                   'at', to_char(f."at" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'))
            from "colour_standard_confirmation" f where f."revisionId" = r."id") as "confirmation",
         (select coalesce(jsonb_agg(jsonb_build_object('id', w."id", 'displayName', r."snapshot" -> 'writers' -> w."id"::text)
                   order by w."place"), '[]'::jsonb)
            from unnest(r."writerIds") with ordinality w ("id", "place")) as "writers"
    from "colour_standard_revision" r
    join "colour_standard" s on s."id" = r."standardId"
    left join "customer" c on c."id" = s."customerId"`;

/** One revision: that of a number, else the one in force, else the newest. */
export async function readStandard(
  execute: SqlExecutor,
  { id, revision }: { id: number; revision?: number | undefined },
): Promise<StandardRow | null> {
  const [row] = await execute<StandardRow>(sql`
    ${standard} where s."id" = ${id}
      ${revision === undefined ? Prisma.empty : sql`and r."revision" = ${revision}`}
     order by r."status" = 'approved' desc, r."revision" desc limit 1`);
  return row ?? null;
}
export async function readRevision(execute: SqlExecutor, revisionId: number): Promise<StandardRow | null> {
  const [row] = await execute<StandardRow>(sql`${standard} where r."id" = ${revisionId}`);
  return row ?? null;
}
/** The revisions of a standard, newest first. */
export const readRevisions = (execute: SqlExecutor, standardId: number) =>
  execute<ColourStandard['revisions'][number]>(sql`
    select "id" as "revisionId", "revision", "status", "changeNote" from "colour_standard_revision"
     where "standardId" = ${standardId} order by "revision" desc limit 500`);
/** Current revisions of parts that point to a standard. */
export const readParts = (execute: SqlExecutor, standardId: number) =>
  execute<ColourStandard['parts'][number]>(sql`
    select p."id", p."number", p."revision", c."name" as "customer" from "part" p join "customer" c on c."id" = p."customerId"
     where ${pointsTo(sql`${standardId}::int`)} and p."successorId" is null and p."archivedAt" is null
     order by c."name", p."number" limit 200`);
/** Parts of other customers that point to a standard. */
export const readPartsOfOthers = (
  execute: SqlExecutor,
  { standardId, customerId }: { standardId: number; customerId: number },
) =>
  execute<{ number: string; customer: string }>(sql`
    select p."number", c."name" as "customer" from "part" p join "customer" c on c."id" = p."customerId"
     where ${pointsTo(sql`${standardId}::int`)} and p."customerId" <> ${customerId} limit 1`);
/** Whether any part, also a superseded or archived one, points to a standard. */
export async function isPointedTo(execute: SqlExecutor, standardId: number): Promise<boolean> {
  const rows = await execute(sql`select 1 from "part" p where ${pointsTo(sql`${standardId}::int`)} limit 1`);
  return rows.length > 0;
}

const ofStatus = (status: RevisionStatus | 'unconfirmed' | 'all' | undefined) => {
  if (status === 'all') return Prisma.empty;
  if (status === undefined) return sql`and r."status" in ('draft', 'approved')`;
  if (status === 'unconfirmed')
    return sql`and r."status" = 'approved' and colour_unconfirmed(r."id", 'infinity')`;
  return sql`and r."status" = ${status}`;
};
export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    status?: RevisionStatus | 'unconfirmed' | 'all' | undefined;
    customerId?: number | undefined;
    after: { code: string; revision: number } | null;
    limit: number;
  },
) =>
  execute<StandardRow>(sql`
    ${standard} where true
      ${ofStatus(filter.status)}
      ${filter.customerId === undefined ? Prisma.empty : sql`and (s."customerId" is null or s."customerId" = ${filter.customerId})`}
      ${filter.search ? sql`and concat_ws(' ', s."code", r."name", c."name", r."sample" ->> 'name') ilike ${containing(filter.search)}` : Prisma.empty}
      ${filter.after === null ? Prisma.empty : sql`and (s."code", r."revision") > (${filter.after.code}, ${filter.after.revision}::int)`}
     order by s."code", r."revision" limit ${filter.limit + 1}`);

export async function findCode(execute: SqlExecutor, code: string): Promise<number | null> {
  const [row] = await execute<{ id: number }>(sql`select "id" from "colour_standard" where "code" = ${code}`);
  return row?.id ?? null;
}
/** The standard of a customer, or of the shop, that names a sample or bears its words as code. */
export async function findSample(
  execute: SqlExecutor,
  { customerId, sample }: { customerId: number; sample: string },
): Promise<number | null> {
  const [row] = await execute<{ id: number }>(sql`
    select s."id" from "colour_standard" s join "colour_standard_revision" r on r."standardId" = s."id"
     where (s."customerId" = ${customerId} or s."customerId" is null) and r."status" in ('draft', 'approved')
       and (lower(s."code") = lower(${sample}) or lower(r."sample" ->> 'name') = lower(${sample}))
     order by s."customerId" nulls last, s."id" limit 1`);
  return row?.id ?? null;
}
/** A code for a standard that has no better one: `SAMPLE-4`. */
export async function nextSampleCode(execute: SqlExecutor): Promise<string> {
  const [row] = await execute<{ code: string }>(sql`
    select 'SAMPLE-' || coalesce(max(substring("code" from '^SAMPLE-([0-9]{1,9})$')::int), 0) + 1 as "code" from "colour_standard"`);
  return row?.code ?? 'SAMPLE-1';
}
/** Keeps other writers of any revision waiting until this transaction ends. */
export const lockStandard = (execute: SqlExecutor, standardId: number) =>
  execute(sql`select 1 from "colour_standard" where "id" = ${standardId} for update`);

export type RevisionFacts = Omit<NewColourStandard, 'code' | 'customerId'>;
const json = (value: unknown) => (value === null ? Prisma.DbNull : (value as Prisma.InputJsonObject));
const day = (value: string | null) => (value === null ? null : new Date(`${value}T00:00:00Z`));
const columns = (facts: RevisionFacts) => ({
  ...facts,
  ...{ target: json(facts.target), light: json(facts.light), dark: json(facts.dark) },
  ...{ conditions: json(facts.conditions), tolerance: json(facts.tolerance), sample: json(facts.sample) },
  ...{ agreedOn: day(facts.agreedOn), expiresOn: day(facts.expiresOn) },
});
export const addStandard = (db: Queryable, head: { code: string; customerId: number | null }) =>
  db.prisma.colourStandard.create({ data: head, select: { id: true } });
export const changeStandard = (db: Queryable, id: number, head: { customerId: number | null }) =>
  db.prisma.colourStandard.update({ where: { id }, data: head, select: { id: true } });
export const addRevision = (
  db: Queryable,
  options: { standardId: number; revision: number; authorId: number; facts: RevisionFacts },
) => {
  const { facts, ...rest } = options;
  return db.prisma.colourStandardRevision.create({
    data: { ...columns(facts), ...rest, writerIds: [rest.authorId] },
    select: { id: true },
  });
};
export const changeRevision = (
  db: Queryable,
  id: number,
  { facts, writerIds }: { facts: RevisionFacts; writerIds: number[] },
) =>
  db.prisma.colourStandardRevision.update({
    where: { id },
    data: { ...columns(facts), writerIds, version: { increment: 1 } },
    select: { id: true },
  });
export const setStatus = (db: Queryable, id: number, fate: RevisionFate) =>
  db.prisma.colourStandardRevision.update({
    where: { id },
    data: { ...fate, version: { increment: 1 } },
    select: { id: true },
  });
export const addConfirmation = (
  db: Queryable,
  data: { revisionId: number; grounds: string; personId: number },
) => db.prisma.colourStandardConfirmation.create({ data, select: { id: true } });
export const removeRevision = (db: Queryable, id: number) =>
  db.prisma.colourStandardRevision.delete({ where: { id }, select: { id: true } });
export const removeStandard = (db: Queryable, id: number) =>
  db.prisma.colourStandard.delete({ where: { id }, select: { id: true } });

/** The approved revisions of standards; a standard without one is left out. */
export const readInForce = async (
  execute: SqlExecutor,
  standardIds: readonly number[],
): Promise<AgreedColour[]> =>
  (
    await execute<{ colour: AgreedColour }>(sql`
      select agreed_colour(r) as "colour" from "colour_standard_revision" r
       where r."standardId" = any(${[...standardIds]}::int[]) and r."status" = 'approved'`)
  ).map(({ colour }) => colour);
/** The day it is in the shop. */
export async function readToday(execute: SqlExecutor): Promise<string> {
  const [row] = await execute<{ day: string }>(sql`select ${today}::text as "day"`);
  return row?.day ?? '';
}
/** Those of some revisions that were taken over and nobody has confirmed. */
export const readUnconfirmed = async (
  execute: SqlExecutor,
  revisionIds: readonly number[],
): Promise<number[]> =>
  (
    await execute<{ id: number }>(sql`
      select "id" from unnest(${[...revisionIds]}::int[]) as u ("id") where colour_unconfirmed("id", 'infinity')`)
  ).map(({ id }) => id);
