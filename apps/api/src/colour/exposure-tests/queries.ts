import {
  permissions,
  type BaseMetal,
  type ExposureKind,
  type ExposureResult,
  type ExposureState,
  type ExposureTest,
  type NewExposureTest,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** A test as it is stored: what counts of it, and what is due, is worked out. */
export type StoredTest = Omit<
  ExposureTest,
  | 'exposedHours'
  | 'missedLooks'
  | 'dueLooks'
  | 'readingsOutside'
  | 'result'
  | 'specimens'
  | 'readings'
  | 'interruptions'
  | 'lookDays'
> & {
  result: ExposureResult | null;
  /** Null before it starts. */
  timeZone: string | null;
};

/** An instant as it goes over the wire. */
export const instant = (column: Prisma.Sql): Prisma.Sql =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const test = sql`
  t."id", t."number", t."name", t."kind", t."medium", t."concentrationGPerL", t."temperatureC", t."place", t."standard", t."lookEveryDays",
  t."plannedStart"::text as "plannedStart", t."plannedHours", t."limits", t."note", t."state", t."verdict", t."withdrawReason", t."result",
  t."calcVersion", t."version", jsonb_build_object('id', t."responsibleId", 'name', t."snapshot" ->> 'responsible') as "responsible",
  t."snapshot" ->> 'createdBy' as "createdBy", ${instant(sql`t."createdAt"`)} as "createdAt",
  t."snapshot" ->> 'startedBy' as "startedBy", ${instant(sql`t."startedAt"`)} as "startedAt", t."startDay"::text as "startDay", t."timeZone",
  t."snapshot" ->> 'endedBy' as "endedBy", ${instant(sql`t."endedAt"`)} as "endedAt", t."endDay"::text as "endDay"`;

export const readTest = async (execute: SqlExecutor, id: number): Promise<StoredTest | null> =>
  (await execute<StoredTest>(sql`select ${test} from "exposure_test" t where t."id" = ${id}`))[0] ?? null;

/** `update` keeps everybody else out until the transaction ends, `share` only those who would start or end the test. */
export const lockTest = (execute: SqlExecutor, { id, how }: { id: number; how: 'update' | 'share' }) =>
  execute(
    how === 'update'
      ? sql`select 1 from "exposure_test" where "id" = ${id} for update`
      : sql`select 1 from "exposure_test" where "id" = ${id} for share`,
  );

export interface TestsAsked {
  search?: string | undefined;
  state?: ExposureState | undefined;
  kind?: ExposureKind | undefined;
  materialId?: number | undefined;
  recipeId?: number | undefined;
  couponSeriesId?: number | undefined;
  after: number | null;
  limit: number;
}
export type ListedTest = StoredTest & { specimens: number; materials: string[]; readingsOutside: number };

const withSpecimen = (condition: Prisma.Sql) =>
  sql`and exists (select from "exposure_specimen" s left join "recipe_revision" r on r."id" = s."recipeRevisionId"
                   where s."testId" = t."id" and ${condition})`;

export const readTests = (execute: SqlExecutor, asked: TestsAsked) =>
  execute<ListedTest>(sql`
    select ${test},
           (select count(*)::int from "exposure_specimen" s where s."testId" = t."id") as "specimens",
           (select coalesce(array_agg(distinct s."snapshot" -> 'material' ->> 'name'), '{}') from "exposure_specimen" s where s."testId" = t."id") as "materials",
           (select count(*)::int from "exposure_reading" r where r."testId" = t."id" and r."outside" <> '{}') as "readingsOutside"
      from "exposure_test" t
     where true
       ${asked.search ? sql`and (t."number" || ' ' || t."name" || ' ' || t."medium" || ' ' || t."standard") ilike ${containing(asked.search)}` : Prisma.empty}
       ${asked.state === undefined ? Prisma.empty : sql`and t."state" = ${asked.state}`}
       ${asked.kind === undefined ? Prisma.empty : sql`and t."kind" = ${asked.kind}`}
       ${asked.materialId === undefined ? Prisma.empty : withSpecimen(sql`s."materialId" = ${asked.materialId}`)}
       ${asked.recipeId === undefined ? Prisma.empty : withSpecimen(sql`r."recipeId" = ${asked.recipeId}`)}
       ${asked.couponSeriesId === undefined ? Prisma.empty : withSpecimen(sql`s."couponSeriesId" = ${asked.couponSeriesId}`)}
       ${asked.after === null ? Prisma.empty : sql`and t."id" < ${asked.after}`}
     order by t."id" desc limit ${asked.limit + 1}`);

type Facts = Omit<NewExposureTest, 'specimens'>;
const columns = ({ plannedStart, ...facts }: Facts) => ({
  ...facts,
  plannedStart: plannedStart === null ? null : new Date(`${plannedStart}T00:00:00Z`),
});
export const addTest = (
  db: Queryable,
  { facts, ...stored }: { number: string; createdById: number; createdAt: Date; facts: Facts },
) => db.prisma.exposureTest.create({ data: { ...columns(facts), ...stored }, select: { id: true } });
export const changeTest = (db: Queryable, { id, facts }: { id: number; facts: Facts }) =>
  db.prisma.exposureTest.update({
    where: { id },
    data: { ...columns(facts), version: { increment: 1 } },
    select: { id: true },
  });
export const moveTest = (
  db: Queryable,
  { id, ...data }: { id: number } & Prisma.ExposureTestUncheckedUpdateInput,
) =>
  db.prisma.exposureTest.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });

/** The calendar day of an instant in the time zone of a test, or of the shop before it starts; and the day before now. */
export const readDays = async (
  execute: SqlExecutor,
  { at, now, timeZone }: { at: Date; now: Date; timeZone: string | null },
) => {
  const [days] = await execute<{ day: string; yesterday: string; timeZone: string }>(sql`
    select (${at}::timestamptz at time zone z."name")::date::text as "day",
           ((${now}::timestamptz at time zone z."name")::date - 1)::text as "yesterday", z."name" as "timeZone"
      from (select coalesce(${timeZone}, "timeZone") as "name" from "shop") z`);
  if (days === undefined) throw new Error('the shop has no row');
  return days;
};

const mayTest = sql`"active" and "roles" && ${[...permissions['coupons.write']]}::text[]`;
export const readSheet = async (execute: SqlExecutor) => {
  const [people, materials, recipes, couponSeries] = await Promise.all([
    execute<{ id: number; name: string }>(
      sql`select "id", "displayName" as "name" from "person" where ${mayTest} order by "displayName", "id"`,
    ),
    execute<{ id: number; name: string; condition: string; baseMetal: BaseMetal }>(
      sql`select "id", "name", "condition", "baseMetal" from "material" where "archivedAt" is null order by "name", "condition"`,
    ),
    execute<{ revisionId: number; number: string; name: string; revision: number }>(sql`
      select r."id" as "revisionId", re."number", re."name", r."revision"
        from "recipe_revision" r join "recipe" re on re."id" = r."recipeId"
       where re."archivedAt" is null and r."status" in ('approved', 'draft') order by re."number", r."revision"`),
    execute<{ id: number; code: string; revision: number; name: string }>(
      sql`select "id", "code", "revision", "name" from "coupon_series" where "status" in ('approved', 'draft') order by "code", "revision"`,
    ),
  ]);
  return { people, materials, recipes, couponSeries };
};

/** What a plan names, by what there is. */
export const readNamed = async (
  execute: SqlExecutor,
  named: { responsibleId: number; materialIds: number[]; revisionIds: number[]; seriesIds: number[] },
) => {
  const [row] = await execute<{
    responsible: boolean;
    materials: number[];
    revisions: number[];
    series: number[];
  }>(sql`
    select exists (select from "person" where "id" = ${named.responsibleId} and ${mayTest}) as "responsible",
           array(select "id" from "material" where "id" = any(${named.materialIds}::int[])) as "materials",
           array(select "id" from "recipe_revision" where "id" = any(${named.revisionIds}::int[])) as "revisions",
           array(select "id" from "coupon_series" where "id" = any(${named.seriesIds}::int[])) as "series"`);
  if (row === undefined) throw new Error('one row was asked for');
  return row;
};
