import type {
  CouponOutcome,
  CouponSeries,
  CouponSeriesItem,
  CouponStatus,
  CouponTrial,
  NewCouponSeries,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type Run } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

export interface SeriesRow extends Omit<CouponSeriesItem, 'createdAt' | 'approvedAt'> {
  createdAt: Date;
  approvedAt: Date | null;
  endedAt: Date | null;
  endReason: string;
  writers: CouponSeries['writers'];
}
const series = sql`
  select s."id", s."code", s."revision", s."status", s."name", s."contents", s."component", s."unit", s."referenceTemperatureC",
         s."preparation", s."notes", s."changeNote", s."createdAt", s."approvedAt", s."endedAt", s."endReason", s."version",
         jsonb_build_object('id', m."id", 'name', m."name", 'condition', m."condition", 'baseMetal', m."baseMetal") as "material",
         (select count(*)::int from "coupon_trial" t where t."seriesId" = s."id") as "trialCount",
         a."displayName" as "author", b."displayName" as "approvedBy",
         (select coalesce(jsonb_agg(jsonb_build_object('id', w."id", 'displayName', w."displayName")
                   order by array_position(s."writerIds", w."id")), '[]'::jsonb)
            from "person" w where w."id" = any (s."writerIds")) as "writers"
    from "coupon_series" s
    join "material" m on m."id" = s."materialId"
    join "person" a on a."id" = s."authorId"
    left join "person" b on b."id" = s."approvedById"`;

export const readSeries = async (run: Run, id: number): Promise<SeriesRow | null> =>
  (await run<SeriesRow>(sql`${series} where s."id" = ${id}`))[0] ?? null;
/** The revisions of a code, newest first. */
export const readRevisions = (run: Run, code: string) =>
  run<SeriesRow>(sql`${series} where s."code" = ${code} order by s."revision" desc limit 500`);
/** What predictions in such a bath rest on. */
export const readApproved = (run: Run, contents: string) =>
  run<SeriesRow>(
    sql`${series} where s."status" = 'approved' and s."contents" = ${contents} order by s."code" limit 200`,
  );
export const readItems = (
  run: Run,
  of: {
    search?: string | undefined;
    status?: CouponStatus | 'all' | undefined;
    contents?: string | undefined;
    after: { code: string; revision: number } | null;
    limit: number;
  },
) =>
  run<SeriesRow>(sql`
    ${series} where true
      ${of.status === 'all' ? Prisma.empty : of.status === undefined ? sql`and s."status" in ('draft', 'approved')` : sql`and s."status" = ${of.status}`}
      ${of.contents === undefined ? Prisma.empty : sql`and s."contents" = ${of.contents}`}
      ${of.search ? sql`and (s."code" || ' ' || s."name" || ' ' || m."name") ilike ${containing(of.search)}` : Prisma.empty}
      ${of.after === null ? Prisma.empty : sql`and (s."code", s."revision") > (${of.after.code}, ${of.after.revision}::int)`}
     order by s."code", s."revision" limit ${of.limit + 1}`);
/** Keeps other writers of any revision waiting until this transaction ends. */
export const lockSeries = (run: Run, id: number) =>
  run(sql`
    select 1 from "coupon_series" where "code" = (select "code" from "coupon_series" where "id" = ${id})
     order by "id" for update`);

interface TrialRow extends Omit<CouponTrial, 'lab'> {
  seriesId: number;
  outcome: CouponOutcome;
  labL: number | null;
  labA: number | null;
  labB: number | null;
}
/** The trials of series in order, by the series they belong to. */
export async function readTrials(
  run: Run,
  seriesIds: readonly number[],
): Promise<Map<number, CouponTrial[]>> {
  const rows = await run<TrialRow>(sql`
    select "seriesId", "mark", "temperatureC", "voltageV", "timeS", "strength", "outcome", "labL", "labA", "labB",
           "madeOn"::text as "madeOn", "madeBy"
      from "coupon_trial" where "seriesId" = any(${[...seriesIds]}) order by "seriesId", "position"`);
  const trials = new Map<number, CouponTrial[]>(seriesIds.map((id) => [id, []]));
  for (const { seriesId, labL, labA, labB, ...trial } of rows) {
    const lab = labL === null || labA === null || labB === null ? null : { L: labL, a: labA, b: labB };
    trials.get(seriesId)?.push({ ...trial, lab });
  }
  return trials;
}
export async function writeTrials(db: Queryable, seriesId: number, trials: readonly CouponTrial[]) {
  await db.prisma.couponTrial.deleteMany({ where: { seriesId } });
  await db.prisma.couponTrial.createMany({
    data: trials.map(({ lab, madeOn, ...trial }, at) => ({
      ...trial,
      seriesId,
      position: at + 1,
      labL: lab?.L ?? null,
      labA: lab?.a ?? null,
      labB: lab?.b ?? null,
      madeOn: new Date(`${madeOn}T00:00:00Z`),
    })),
  });
}

export type SeriesFacts = Omit<NewCouponSeries, 'trials'>;
export const addSeries = (db: Queryable, of: SeriesFacts & { revision: number; authorId: number }) =>
  db.prisma.couponSeries.create({ data: { ...of, writerIds: [of.authorId] }, select: { id: true } });
export const changeSeries = (db: Queryable, id: number, data: SeriesFacts & { writerIds: number[] }) =>
  db.prisma.couponSeries.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
export const setStatus = (
  db: Queryable,
  id: number,
  data: {
    status: CouponStatus;
    approvedById?: number;
    approvedAt?: Date;
    endedAt?: Date;
    endReason?: string;
  },
) =>
  db.prisma.couponSeries.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
export async function removeDraft(db: Queryable, id: number) {
  await db.prisma.couponTrial.deleteMany({ where: { seriesId: id } });
  await db.prisma.couponSeries.delete({ where: { id } });
}
/** The last instant at which something was added to a bath that changes its strength; null where nothing was. */
export async function readLastAdded(run: Run, bathId: number): Promise<Date | null> {
  const [row] = await run<{ at: Date | null }>(sql`
    select max(a."finishedAt") as "at" from "addition" a
     where a."bathId" = ${bathId} and a."state" = 'done' and a."kind" in ('make-up', 'chemical', 'water')
       and not exists (select 1 from "addition" n where n."correctsId" = a."id")`);
  return row?.at ?? null;
}
/** The day it is in the shop. */
export async function readToday(run: Run): Promise<string> {
  const [row] = await run<{ day: string }>(
    sql`select (now() at time zone (select "timeZone" from "shop"))::date::text as "day"`,
  );
  return row?.day ?? '';
}
