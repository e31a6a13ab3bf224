import type {
  ExposureFigure,
  ExposureInterruption,
  ExposureReading,
  NewExposureInterruption,
  NewExposureReading,
} from '@huelot/contracts';
import { sql, type Prisma, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { instant } from './queries.ts';

const readReadings = (execute: SqlExecutor, which: Prisma.Sql) =>
  execute<ExposureReading & { testId: number }>(sql`
    select r."id", r."testId", ${instant(sql`r."readAt"`)} as "readAt", r."temperatureC", r."pH", r."collectionMlPerHour", r."saltGPerL", r."outside",
           r."note", r."snapshot" ->> 'readBy' as "readBy", ${instant(sql`r."enteredAt"`)} as "enteredAt", r."correctsId", r."reason",
           exists (select from "exposure_reading" n where n."correctsId" = r."id") as "isCorrected"
      from "exposure_reading" r where ${which} order by r."readAt", r."id"`);
export const readReadingsOfTest = (execute: SqlExecutor, testId: number) =>
  readReadings(execute, sql`r."testId" = ${testId}`);
export const readReading = async (execute: SqlExecutor, id: number) =>
  (await readReadings(execute, sql`r."id" = ${id}`))[0] ?? null;
export const lockReading = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "exposure_reading" where "id" = ${id} for update`);

export const addReading = (
  db: Queryable,
  {
    input,
    ...stored
  }: {
    input: NewExposureReading;
    testId: number;
    outside: ExposureFigure[];
    correctsId: number | null;
    reason: string;
    readById: number;
    enteredAt: Date;
  },
) => db.prisma.exposureReading.create({ data: { ...input, ...stored }, select: { id: true } });

const readInterruptions = (execute: SqlExecutor, which: Prisma.Sql) =>
  execute<ExposureInterruption & { testId: number }>(sql`
    select i."id", i."testId", ${instant(sql`i."fromAt"`)} as "fromAt", ${instant(sql`i."toAt"`)} as "toAt", i."reason",
           i."snapshot" ->> 'enteredBy' as "enteredBy", ${instant(sql`i."enteredAt"`)} as "enteredAt", i."snapshot" ->> 'endedBy' as "endedBy"
      from "exposure_interruption" i where ${which} order by i."fromAt", i."id"`);
export const readInterruptionsOfTests = (execute: SqlExecutor, testIds: readonly number[]) =>
  readInterruptions(execute, sql`i."testId" = any(${[...testIds]}::int[])`);
export const readInterruption = async (execute: SqlExecutor, id: number) =>
  (await readInterruptions(execute, sql`i."id" = ${id}`))[0] ?? null;

export const addInterruption = (
  db: Queryable,
  {
    input,
    personId,
    testId,
    enteredAt,
  }: { input: NewExposureInterruption; personId: number; testId: number; enteredAt: Date },
) =>
  db.prisma.exposureInterruption.create({
    data: {
      ...{ ...input, testId, enteredById: personId, enteredAt },
      ...(input.toAt === null ? {} : { endedById: personId, endedAt: enteredAt }),
    },
    select: { id: true },
  });
export const endInterruption = (
  db: Queryable,
  { id, ...end }: { id: number; toAt: Date; endedById: number; endedAt: Date },
) => db.prisma.exposureInterruption.update({ where: { id }, data: end, select: { id: true } });
