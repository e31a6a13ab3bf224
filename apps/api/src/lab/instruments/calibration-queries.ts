import type { CalibrationPoint, InstrumentVerdict, InstrumentCalibration } from '@huelot/contracts';
import { readFiles, toStoredFile } from '../../core/files/index.ts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface CalibrationRow extends Omit<InstrumentCalibration, 'file' | 'recordedAt'> {
  fileId: number | null;
  recordedAt: Date;
}

/** All of an instrument, the newest first. */
export const readCalibrations = (execute: SqlExecutor, instrumentId: number) =>
  execute<CalibrationRow>(sql`
    select c."id", c."doneOn"::text as "doneOn", c."nextDueOn"::text as "nextDueOn", c."doneBy", c."certificateNumber", c."reference",
           c."referenceCertificate", c."points", c."asFound", c."asLeft", c."note", c."fileId", c."replacesId", c."reason",
           (select r."id" from "instrument_calibration" r where r."replacesId" = c."id") as "replacedById",
           (select max(g."doneOn")::text from "instrument_calibration" g
             where g."instrumentId" = c."instrumentId" and g."asLeft" = 'pass' and (g."doneOn", g."id") < (c."doneOn", c."id")
               and g."id" is distinct from c."replacesId"
               and not exists (select from "instrument_calibration" r where r."replacesId" = g."id")) as "lastGoodOn",
           c."snapshot" ->> 'recordedBy' as "recordedBy", c."recordedAt"
      from "instrument_calibration" c where c."instrumentId" = ${instrumentId} order by c."doneOn" desc, c."id" desc`);

/** The newest calibration that counts. */
export const readLastCalibration = async (execute: SqlExecutor, instrumentId: number) =>
  (
    await execute<{ id: number; nextDueOn: string | null }>(
      sql`select "id", "nextDueOn"::text as "nextDueOn" from instrument_calibration_on(${instrumentId}, 'infinity')`,
    )
  )[0] ?? null;

export const addCalibration = (
  db: Queryable,
  {
    points,
    doneOn,
    nextDueOn,
    ...data
  }: {
    instrumentId: number;
    doneOn: string;
    nextDueOn: string | null;
    doneBy: string;
    certificateNumber: string;
    reference: string;
    referenceCertificate: string;
    points: CalibrationPoint[];
    asFound: InstrumentVerdict | null;
    asLeft: InstrumentVerdict;
    note: string;
    fileId: number | null;
    replacesId: number | null;
    reason: string;
    recordedById: number;
  },
) =>
  db.prisma.instrumentCalibration.create({
    data: {
      ...data,
      points,
      doneOn: new Date(doneOn),
      nextDueOn: nextDueOn === null ? null : new Date(nextDueOn),
    },
    select: { id: true },
  });

/** Calibrations with their certificates, as a page shows them. */
export async function toCalibration(
  execute: SqlExecutor,
  rows: readonly CalibrationRow[],
): Promise<InstrumentCalibration[]> {
  const files = (
    await readFiles(
      execute,
      rows.flatMap(({ fileId }) => fileId ?? []),
    )
  ).map(toStoredFile);
  return rows.map(({ fileId, recordedAt, ...row }) => ({
    ...row,
    file: files.find(({ id }) => id === fileId) ?? null,
    recordedAt: recordedAt.toISOString(),
  }));
}
