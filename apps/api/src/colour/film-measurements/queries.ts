import type {
  CouponTrial,
  FilmMeasurement,
  FilmMeasurementItem,
  FilmResult,
  NewFilmMeasurement,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
const counts = sql`not f."isWithdrawal" and not exists (select from "film_measurement" n where n."replacesId" = f."id")`;
const head = sql`
  f."id", f."number", f."mark", f."snapshot" -> 'material' as "material", f."measuredOn"::text as "measuredOn", f."laboratory", f."result",
  f."snapshot" ->> 'enteredBy' as "enteredBy", ${instant(sql`f."enteredAt"`)} as "enteredAt",
  jsonb_build_object('code', f."seriesCode", 'id',
    (select s."id" from "coupon_series" s where s."code" = f."seriesCode"
      order by exists (select from "coupon_trial" t where t."seriesId" = s."id" and t."mark" = f."mark") desc,
               s."status" = 'approved' desc, s."revision" desc limit 1)) as "series",
  (select jsonb_build_object('id', n."id", 'number', n."number", 'reason', n."reason", 'isWithdrawal', n."isWithdrawal")
     from "film_measurement" n where n."replacesId" = f."id") as "replacedBy"`;
const whole = sql`
  ${head}, f."coupon", f."instrument", f."evidence", f."doubts", f."note", f."calcVersion", f."isWithdrawal", f."reason", f."fileId",
  (select jsonb_build_object('id', o."id", 'number', o."number") from "film_measurement" o where o."id" = f."replacesId") as "replaces"`;

export const readItems = (
  execute: SqlExecutor,
  {
    search,
    seriesId,
    after,
    limit,
  }: { search?: string | undefined; seriesId?: number | undefined; after: number | null; limit: number },
) =>
  execute<FilmMeasurementItem>(sql`
    select ${head} from "film_measurement" f where ${counts}
       ${seriesId === undefined ? Prisma.empty : sql`and f."seriesCode" = (select "code" from "coupon_series" where "id" = ${seriesId})`}
       ${search ? sql`and (f."number" || ' ' || f."seriesCode" || ' ' || f."mark" || ' ' || f."laboratory" || ' ' || (f."snapshot" -> 'material' ->> 'name')) ilike ${containing(search)}` : Prisma.empty}
       ${after === null ? Prisma.empty : sql`and f."id" < ${after}`}
     order by f."id" desc limit ${limit + 1}`);

export type MeasurementRow = Omit<FilmMeasurement, 'file'> & { fileId: number | null };

export const readMeasurement = async (execute: SqlExecutor, id: number): Promise<MeasurementRow | null> =>
  (await execute<MeasurementRow>(sql`select ${whole} from "film_measurement" f where f."id" = ${id}`))[0] ??
  null;

/** What counts of one coupon, in the order it was entered. */
export const readOfCoupon = (execute: SqlExecutor, { code, mark }: { code: string; mark: string }) =>
  execute<MeasurementRow>(sql`
    select ${whole} from "film_measurement" f
     where f."seriesCode" = ${code} and f."mark" = ${mark} and ${counts} order by f."id" limit 100`);

export interface ThicknessRow {
  code: string;
  mark: string;
  coupon: CouponTrial;
  thicknessNm: number;
  standardUncertaintyNm: number;
}
/** The thicknesses that count of all coupons of some series. */
export const readThicknesses = (execute: SqlExecutor, codes: readonly string[]) =>
  execute<ThicknessRow>(sql`
    select f."seriesCode" as "code", f."mark", f."coupon", f."thicknessNm", f."standardUncertaintyNm" from "film_measurement" f
     where f."seriesCode" = any(${[...codes]}) and f."thicknessNm" is not null and ${counts} order by f."id"`);

/** Keeps whoever else replaces the measurement waiting until this transaction ends. */
export const lockMeasurement = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "film_measurement" where "id" = ${id} for update`);

export interface StoredMeasurement {
  number: string;
  seriesCode: string;
  mark: string;
  coupon: CouponTrial;
  materialId: number;
  result: FilmResult;
  evidence: NewFilmMeasurement['evidence'];
  doubts: string[];
  calcVersion: string;
  enteredById: number;
  measuredOn: string;
  laboratory: string;
  instrument: string;
  fileId: number | null;
  note: string;
  replacesId: number | null;
  isWithdrawal: boolean;
  reason: string;
}
export function addMeasurement(db: Queryable, { measuredOn, result, ...stored }: StoredMeasurement) {
  const thickness = 'thicknessNm' in result ? result : null;
  return db.prisma.filmMeasurement.create({
    data: {
      ...stored,
      result,
      kind: result.kind,
      measuredOn: new Date(`${measuredOn}T00:00:00Z`),
      thicknessNm: thickness?.thicknessNm ?? null,
      standardUncertaintyNm: thickness?.standardUncertaintyNm ?? null,
    },
    select: { id: true },
  });
}
