import type {
  ExposureCorrection,
  ExposureObservation,
  ExposureSpecimen,
  ExposureVerdict,
  NewExposureObservation,
  NewExposureSpecimen,
} from '@huelot/contracts';
import { sql, type Prisma, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { instant } from './queries.ts';

export type StoredSpecimen = Omit<
  ExposureSpecimen,
  'observations' | 'missedDays' | 'dueDays' | 'firstCorrosion'
>;

export interface StoredVerdict {
  verdict: ExposureVerdict;
  defectAreaPercent: number | null;
  note: string;
}
export interface StoredCorrection extends StoredVerdict {
  reason: string;
  correctedBy: string;
  correctedAt: string;
}
export type StoredObservation = Omit<
  ExposureObservation,
  'rating' | 'counts' | 'corrections' | 'exposedHours'
> & { testId: number; specimenId: number; corrections: StoredCorrection[] };

export const readSpecimens = (execute: SqlExecutor, testId: number) =>
  execute<StoredSpecimen>(sql`
    select s."id", s."mark", s."finish", s."film", s."protective", s."areaMm2", s."edgesMasked", s."note", s."snapshot" -> 'material' as "material",
           s."snapshot" -> 'recipe' as "recipe",
           (select jsonb_build_object('id', c."id", 'code', c."code", 'revision', c."revision")
              from "coupon_series" c where c."id" = s."couponSeriesId") as "couponSeries"
      from "exposure_specimen" s where s."testId" = ${testId} order by s."position"`);

/** Puts specimens behind a plan in place of those it had. */
export async function replaceSpecimens(
  db: Queryable,
  { testId, specimens }: { testId: number; specimens: readonly NewExposureSpecimen[] },
): Promise<void> {
  await db.prisma.exposureSpecimen.deleteMany({ where: { testId } });
  await db.prisma.exposureSpecimen.createMany({
    data: specimens.map((specimen, position) => ({ ...specimen, testId, position })),
  });
}

/** The specimen and its test; nobody else adds an observation of it until the transaction ends. */
export const lockSpecimen = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{ id: number; testId: number; mark: string }>(
      sql`select "id", "testId", "mark" from "exposure_specimen" where "id" = ${id} for update`,
    )
  )[0] ?? null;

const readObservations = (execute: SqlExecutor, which: Prisma.Sql) =>
  execute<StoredObservation>(sql`
    select o."id", o."testId", o."specimenId", ${instant(sql`o."seenAt"`)} as "seenAt", o."day"::text as "day", o."verdict", o."defectAreaPercent", o."note",
           (select jsonb_build_object('id', f."id", 'name', f."name") from "file" f where f."id" = o."photoId") as "photo",
           o."takenOut", o."snapshot" ->> 'seenBy' as "seenBy", ${instant(sql`o."enteredAt"`)} as "enteredAt",
           (select coalesce(jsonb_agg(jsonb_build_object(
                     'verdict', c."verdict", 'defectAreaPercent', c."defectAreaPercent", 'note', c."note", 'reason', c."reason",
                     'correctedBy', c."snapshot" ->> 'correctedBy', 'correctedAt', ${instant(sql`c."correctedAt"`)}) order by c."id"), '[]')
              from "exposure_correction" c where c."observationId" = o."id") as "corrections"
      from "exposure_observation" o where ${which} order by o."seenAt", o."id"`);
export const readObservationsOfTest = (execute: SqlExecutor, testId: number) =>
  readObservations(execute, sql`o."testId" = ${testId}`);
export const readObservationsOfSpecimen = (execute: SqlExecutor, specimenId: number) =>
  readObservations(execute, sql`o."specimenId" = ${specimenId}`);
export const readObservation = async (execute: SqlExecutor, id: number) =>
  (await readObservations(execute, sql`o."id" = ${id}`))[0] ?? null;

export const lockObservation = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "exposure_observation" where "id" = ${id} for update`);

export const addObservation = (
  db: Queryable,
  {
    input,
    day,
    ...stored
  }: {
    input: NewExposureObservation;
    day: string;
    testId: number;
    specimenId: number;
    seenById: number;
    enteredAt: Date;
  },
) =>
  db.prisma.exposureObservation.create({
    data: { ...input, ...stored, day: new Date(`${day}T00:00:00Z`) },
    select: { id: true },
  });

export const addCorrection = (
  db: Queryable,
  correction: ExposureCorrection & { observationId: number; correctedById: number; correctedAt: Date },
) => db.prisma.exposureCorrection.create({ data: correction, select: { id: true } });

/** Where a picture is shown already: this file, or another of just these bytes. Nobody else hangs it up until then. */
export async function readPhotoUse(execute: SqlExecutor, fileId: number) {
  await execute(sql`select 1 from "file" where "id" = ${fileId} for update`);
  const [use] = await execute<{ number: string; mark: string; day: string }>(sql`
    select t."number", s."mark", o."day"::text as "day"
      from "file" f join "file" same on same."sha256" = f."sha256"
      join "exposure_observation" o on o."photoId" = same."id"
      join "exposure_specimen" s on s."id" = o."specimenId" join "exposure_test" t on t."id" = o."testId"
     where f."id" = ${fileId} order by o."id" limit 1`);
  return use ?? null;
}
