import type {
  CouponSeries,
  CouponSeriesItem,
  RevisionStatus,
  CouponTrial,
  NewCouponSeries,
  PhotoMark,
  TrialPiece,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import type { RevisionFate } from '../../core/people/index.ts';

export interface SeriesRow extends Omit<CouponSeriesItem, 'createdAt' | 'approvedAt'> {
  createdAt: Date;
  approvedAt: Date | null;
  endedAt: Date | null;
  endReason: string;
  writers: CouponSeries['writers'];
}
const series = sql`
  select s."id", s."code", s."revision", s."status", s."name", s."contents", s."component", s."unit", s."referenceTemperatureC",
         s."preparation", s."notes", s."changeNote", s."createdAt", s."approvedAt", s."selfApproved", s."endedAt", s."endReason", s."version",
         coalesce(s."snapshot" -> 'material', snapshot_of('material', s."materialId")) as "material",
         (select count(*)::int from "coupon_trial" t where t."seriesId" = s."id") as "trialCount",
         s."snapshot" ->> 'author' as "author", s."snapshot" ->> 'approvedBy' as "approvedBy",
         (select coalesce(jsonb_agg(jsonb_build_object('id', w."id", 'displayName', s."snapshot" -> 'writers' -> w."id"::text)
                   order by w."place"), '[]'::jsonb)
            from unnest(s."writerIds") with ordinality w ("id", "place")) as "writers"
    from "coupon_series" s
    join "material" m on m."id" = s."materialId"`;

export const readSeries = async (execute: SqlExecutor, id: number): Promise<SeriesRow | null> =>
  (await execute<SeriesRow>(sql`${series} where s."id" = ${id}`))[0] ?? null;
/** The revisions of a code, newest first. */
export const readRevisions = (execute: SqlExecutor, code: string) =>
  execute<SeriesRow>(sql`${series} where s."code" = ${code} order by s."revision" desc limit 500`);
/** What predictions in such a bath rest on. */
export const readApproved = (execute: SqlExecutor, contents: string) =>
  execute<SeriesRow>(
    sql`${series} where s."status" = 'approved' and s."contents" = ${contents} order by s."code" limit 200`,
  );
export const readItems = (
  execute: SqlExecutor,
  {
    status,
    contents,
    search,
    after,
    limit,
  }: {
    search?: string | undefined;
    status?: RevisionStatus | 'all' | undefined;
    contents?: string | undefined;
    after: { code: string; revision: number } | null;
    limit: number;
  },
) =>
  execute<SeriesRow>(sql`
    ${series} where true
      ${status === 'all' ? Prisma.empty : status === undefined ? sql`and s."status" in ('draft', 'approved')` : sql`and s."status" = ${status}`}
      ${contents === undefined ? Prisma.empty : sql`and s."contents" = ${contents}`}
      ${search ? sql`and (s."code" || ' ' || s."name" || ' ' || m."name") ilike ${containing(search)}` : Prisma.empty}
      ${after === null ? Prisma.empty : sql`and (s."code", s."revision") > (${after.code}, ${after.revision}::int)`}
     order by s."code", s."revision" limit ${limit + 1}`);
/** Keeps other writers of any revision waiting until this transaction ends. */
export const lockSeries = (execute: SqlExecutor, id: number) =>
  execute(sql`
    select 1 from "coupon_series" where "code" = (select "code" from "coupon_series" where "id" = ${id})
     order by "id" for update`);

interface TrialRow extends Omit<CouponTrial, 'lab'> {
  seriesId: number;
  labL: number | null;
  labA: number | null;
  labB: number | null;
}
/** The trials of series in order, by the series they belong to. */
export async function readTrials(
  execute: SqlExecutor,
  seriesIds: readonly number[],
): Promise<Map<number, CouponTrial[]>> {
  const rows = await execute<TrialRow>(sql`
    select "seriesId", "mark", "coatingThicknessUm", "temperatureC", "voltageV", "timeS", "strength", "pH", "currentDensityAPerM2",
           "outcome", "protects", "grade", "labL", "labA", "labB", "madeOn"::text as "madeOn", "madeBy",
           (select jsonb_build_object('id', r."id", 'number', r."number", 'piece', t."piece", 'tank', r."snapshot" -> 'tank' -> 'code',
                     'bath', r."snapshot" -> 'bath' -> 'number', 'supply', r."snapshot" -> 'supply' -> 'code')
              from "trial_run" r where r."id" = t."runId") as "run"
      from "coupon_trial" t where "seriesId" = any(${[...seriesIds]}) order by "seriesId", "position"`);
  const trials = new Map<number, CouponTrial[]>(seriesIds.map((id) => [id, []]));
  for (const { seriesId, labL, labA, labB, ...trial } of rows) {
    const lab = labL === null || labA === null || labB === null ? null : { L: labL, a: labA, b: labB };
    trials.get(seriesId)?.push({ ...trial, lab });
  }
  return trials;
}
export const readPhotos = (execute: SqlExecutor, seriesId: number) =>
  execute<{ fileId: number; marks: PhotoMark[] }>(
    sql`select "fileId", "marks" from "coupon_photo" where "seriesId" = ${seriesId} order by "position"`,
  );
export async function replacePhotos(
  db: Queryable,
  seriesId: number,
  photos: readonly { fileId: number; marks: PhotoMark[] }[],
) {
  await db.prisma.couponPhoto.deleteMany({ where: { seriesId } });
  await db.prisma.couponPhoto.createMany({
    data: photos.map((photo, index) => ({ ...photo, seriesId, position: index + 1 })),
  });
}
/** As a coupon is stored: of its run only which. */
export type StoredTrial = Omit<CouponTrial, 'run'> & { run: { id: number; piece: number } | null };
export async function writeTrials(db: Queryable, seriesId: number, trials: readonly StoredTrial[]) {
  await db.prisma.couponTrial.deleteMany({ where: { seriesId } });
  await db.prisma.couponTrial.createMany({
    data: trials.map(({ lab, madeOn, run, ...trial }, index) => ({
      ...trial,
      runId: run?.id ?? null,
      piece: run?.piece ?? null,
      seriesId,
      position: index + 1,
      labL: lab?.L ?? null,
      labA: lab?.a ?? null,
      labB: lab?.b ?? null,
      madeOn: new Date(`${madeOn}T00:00:00Z`),
    })),
  });
}

/** Puts what was run at a tank behind the coupons of a draft, made on the day it went in. */
export const appendTrials = (
  execute: SqlExecutor,
  {
    seriesId,
    after,
    run,
    pieces,
  }: {
    seriesId: number;
    after: number;
    run: { id: number; number: string; signedBy: string };
    pieces: readonly TrialPiece[];
  },
) =>
  execute(sql`
    insert into "coupon_trial" ("seriesId", "position", "mark", "coatingThicknessUm", "temperatureC", "voltageV", "timeS", "strength", "pH",
      "currentDensityAPerM2", "grade", "madeOn", "madeBy", "runId", "piece")
    select ${seriesId}, ${after} + p."position", ${run.number} || '-' || p."position", p."coatingThicknessUm", p."temperatureC", p."voltageV",
           p."timeS", p."strength", p."pH", p."currentDensityAPerM2", 'word',
           ((select max(e."at") from "trial_event" e where e."runId" = ${run.id} and e."kind" = 'in')
             at time zone (select "timeZone" from "shop"))::date,
           ${run.signedBy}, ${run.id}, p."position"
      from jsonb_to_recordset(${JSON.stringify(pieces)}::jsonb) as p("position" int, "coatingThicknessUm" float8, "temperatureC" float8,
        "voltageV" float8, "timeS" float8, "strength" float8, "pH" float8, "currentDensityAPerM2" float8)`);
export const touchSeries = (db: Queryable, id: number, writerIds: number[]) =>
  db.prisma.couponSeries.update({
    where: { id },
    data: { writerIds, version: { increment: 1 } },
    select: { id: true },
  });
/** The draft of a code, if it has one. */
export const readDraftId = async (execute: SqlExecutor, code: string): Promise<number | null> =>
  (
    await execute<{ id: number }>(
      sql`select "id" from "coupon_series" where "code" = ${code} and "status" = 'draft' order by "id" limit 1`,
    )
  )[0]?.id ?? null;
/** What was signed of runs at a tank, piece by piece. */
export const readPieces = (execute: SqlExecutor, runIds: readonly number[]) =>
  execute<
    TrialPiece & { runId: number; number: string; seriesCode: string; contents: string; materialId: number }
  >(sql`
    select p."runId", p."position", p."coatingThicknessUm", p."temperatureC", p."voltageV", p."timeS", p."strength", p."pH",
           p."currentDensityAPerM2", r."number", r."seriesCode", r."contents", r."materialId"
      from "trial_piece" p join "trial_run" r on r."id" = p."runId" where p."runId" = any(${[...runIds]}::int[])`);

export type SeriesFacts = Omit<NewCouponSeries, 'trials' | 'photos'>;
export const addSeries = (db: Queryable, options: SeriesFacts & { revision: number; authorId: number }) =>
  db.prisma.couponSeries.create({
    data: { ...options, writerIds: [options.authorId] },
    select: { id: true },
  });
export const changeSeries = (db: Queryable, id: number, data: SeriesFacts & { writerIds: number[] }) =>
  db.prisma.couponSeries.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
export const setStatus = (db: Queryable, id: number, data: RevisionFate) =>
  db.prisma.couponSeries.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
export async function removeDraft(db: Queryable, id: number) {
  await db.prisma.couponTrial.deleteMany({ where: { seriesId: id } });
  await db.prisma.couponPhoto.deleteMany({ where: { seriesId: id } });
  await db.prisma.couponSeries.delete({ where: { id } });
}
/** The last instant at which something was added to a bath that changes its strength; null where nothing was. */
export async function readLastAdded(execute: SqlExecutor, bathId: number): Promise<Date | null> {
  const [row] = await execute<{ at: Date | null }>(sql`
    select max(a."finishedAt") as "at" from "addition" a
     where a."bathId" = ${bathId} and a."state" = 'done' and a."kind" in ('make-up', 'chemical', 'water')
       and not exists (select 1 from "addition" n where n."correctsId" = a."id")`);
  return row?.at ?? null;
}
/** The day it is in the shop. */
export async function readToday(execute: SqlExecutor): Promise<string> {
  const [row] = await execute<{ day: string }>(
    sql`select (now() at time zone (select "timeZone" from "shop"))::date::text as "day"`,
  );
  return row?.day ?? '';
}
