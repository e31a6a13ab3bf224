import type { Calibration, CalibrationCoupon, CalibrationFit, NewCalibration } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import type { RevisionFate } from '../../core/people/index.ts';

export interface CalibrationRow extends Pick<
  Calibration,
  | 'id'
  | 'code'
  | 'revision'
  | 'status'
  | 'name'
  | 'contents'
  | 'film'
  | 'substrate'
  | 'angleDeg'
  | 'voidFraction'
  | 'surface'
  | 'seriesIds'
  | 'coupons'
  | 'counted'
  | 'fit'
  | 'calcVersion'
  | 'notes'
  | 'changeNote'
  | 'material'
  | 'author'
  | 'approvedBy'
  | 'selfApproved'
  | 'writers'
  | 'endReason'
  | 'version'
> {
  authorId: number;
  createdAt: Date;
  approvedAt: Date | null;
  endedAt: Date | null;
}
const calibration = sql`
  select c."id", c."code", c."revision", c."status", c."name", c."contents", c."film", c."substrate", c."angleDeg", c."voidFraction",
         c."surface", c."seriesIds", c."coupons", c."counted", c."fit", c."calcVersion", c."notes", c."changeNote", c."authorId", c."createdAt",
         c."approvedAt", c."selfApproved", c."endedAt", c."endReason", c."version",
         coalesce(c."snapshot" -> 'material', snapshot_of('material', c."materialId")) as "material",
         c."snapshot" ->> 'author' as "author", c."snapshot" ->> 'approvedBy' as "approvedBy",
         (select coalesce(jsonb_agg(jsonb_build_object('id', w."id", 'displayName', c."snapshot" -> 'writers' -> w."id"::text)
                   order by w."place"), '[]'::jsonb)
            from unnest(c."writerIds") with ordinality w ("id", "place")) as "writers"
    from "calibration" c
    join "material" m on m."id" = c."materialId"`;

export const readRow = async (execute: SqlExecutor, id: number): Promise<CalibrationRow | null> =>
  (await execute<CalibrationRow>(sql`${calibration} where c."id" = ${id}`))[0] ?? null;
/** The revisions of a code, newest first. */
export const readRevisions = (execute: SqlExecutor, code: string) =>
  execute<Pick<CalibrationRow, 'id' | 'revision' | 'status' | 'changeNote'>>(sql`
    select "id", "revision", "status", "changeNote" from "calibration" where "code" = ${code}
     order by "revision" desc limit 500`);
export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    status?: string | undefined;
    baseMetal?: string | undefined;
    after: { code: string; revision: number } | null;
    limit: number;
  },
) =>
  execute<CalibrationRow>(sql`
    ${calibration} where true
      ${filter.status === 'all' ? Prisma.empty : filter.status === undefined ? sql`and c."status" in ('draft', 'approved')` : sql`and c."status" = ${filter.status}`}
      ${filter.baseMetal === undefined ? Prisma.empty : sql`and m."baseMetal" = ${filter.baseMetal}`}
      ${filter.search ? sql`and (c."code" || ' ' || c."name" || ' ' || m."name") ilike ${containing(filter.search)}` : Prisma.empty}
      ${filter.after === null ? Prisma.empty : sql`and (c."code", c."revision") > (${filter.after.code}, ${filter.after.revision}::int)`}
     order by c."code", c."revision" limit ${filter.limit + 1}`);
/** Every approved one, or those of one material; the newest first. */
export const readApproved = (execute: SqlExecutor, materialId: number | null) =>
  execute<CalibrationRow>(sql`
    ${calibration} where c."status" = 'approved'
      ${materialId === null ? Prisma.empty : sql`and c."materialId" = ${materialId}`}
     order by c."approvedAt" desc, c."id" limit 200`);
/** Keeps other writers of any revision waiting until this transaction ends. */
export const lockCode = (execute: SqlExecutor, id: number) =>
  execute(sql`
    select 1 from "calibration" where "code" = (select "code" from "calibration" where "id" = ${id})
     order by "id" for update`);

export interface Written extends Omit<NewCalibration, 'rejected'> {
  materialId: number;
  contents: string;
  coupons: readonly CalibrationCoupon[];
  fit: CalibrationFit;
  calcVersion: string;
}
const columns = ({ coupons, counted, fit, ...written }: Written) => ({
  ...written,
  coupons: coupons as unknown as Prisma.InputJsonArray,
  counted: counted ?? Prisma.DbNull,
  fit: fit as unknown as Prisma.InputJsonObject,
});
export const addCalibration = (
  db: Queryable,
  { revision, authorId, written }: { revision: number; authorId: number; written: Written },
) =>
  db.prisma.calibration.create({
    data: { ...columns(written), revision, authorId, writerIds: [authorId] },
    select: { id: true },
  });
export const changeCalibration = (
  db: Queryable,
  id: number,
  { written, writerIds }: { written: Written; writerIds: number[] },
) =>
  db.prisma.calibration.update({
    where: { id },
    data: { ...columns(written), writerIds, version: { increment: 1 } },
    select: { id: true },
  });
export const setStatus = (db: Queryable, id: number, fate: RevisionFate) =>
  db.prisma.calibration.update({
    where: { id },
    data: { ...fate, version: { increment: 1 } },
    select: { id: true },
  });
export const removeDraft = (db: Queryable, id: number) =>
  db.prisma.calibration.delete({ where: { id }, select: { id: true } });
/** The names of those series that were retired. */
export const readRetired = async (execute: SqlExecutor, seriesIds: readonly number[]): Promise<string[]> =>
  (
    await execute<{ name: string }>(sql`
      select "code" || ' rev ' || "revision" as "name" from "coupon_series"
       where "id" = any (${[...seriesIds]}::int[]) and "status" = 'retired' order by "id"`)
  ).map(({ name }) => name);
/** Those series that are still approved. */
export const readStillApproved = async (
  execute: SqlExecutor,
  seriesIds: readonly number[],
): Promise<number[]> =>
  (
    await execute<{ id: number }>(sql`
      select "id" from "coupon_series" where "id" = any (${[...seriesIds]}::int[]) and "status" = 'approved' order by "id"`)
  ).map(({ id }) => id);
