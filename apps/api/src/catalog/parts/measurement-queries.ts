import type { FileMeasure, Measurement } from '@huelot/contracts';
import { sql, Prisma, type SqlExecutor } from '../../db/client.ts';

export interface MeasurementRow {
  id: number;
  fileId: number;
  unit: string;
  status: Measurement['status'];
  progress: number;
  result: FileMeasure | null;
  fault: string | null;
  createdBy: string;
  createdAt: Date;
}

const columns = sql`
  m."id", m."fileId", m."unit", m."status", m."progress", m."result", m."fault", p."displayName" as "createdBy", m."createdAt"
  from "measurement" m join "person" p on p."id" = m."createdById"`;

/** A process that measures says so every half second; one that fell silent for this long is gone. */
const SILENT_S = 30;

/** Calls a measurement failed when whoever ran it has fallen silent. */
export const failSilent = (execute: SqlExecutor) =>
  execute(sql`
    update "measurement" set "status" = 'failed', "fault" = 'The server stopped while it was measuring. Measure again.'
     where "status" in ('waiting', 'running') and "heartbeatAt" < now() - make_interval(secs => ${SILENT_S})`);

export async function readMeasurement(execute: SqlExecutor, id: number): Promise<MeasurementRow | null> {
  const [row] = await execute<MeasurementRow>(sql`select ${columns} where m."id" = ${id}`);
  return row ?? null;
}

/** The measurement of a file that is done or under way: the same file is not measured twice. */
export async function readStanding(execute: SqlExecutor, fileId: number): Promise<MeasurementRow | null> {
  const [row] = await execute<MeasurementRow>(sql`
    select ${columns} where m."fileId" = ${fileId} and m."status" in ('waiting', 'running', 'done')
     order by m."id" desc limit 1`);
  return row ?? null;
}

export async function readPreview(execute: SqlExecutor, id: number): Promise<Uint8Array | null> {
  const [row] = await execute<{ preview: Uint8Array | null }>(
    sql`select "preview" from "measurement" where "id" = ${id}`,
  );
  return row?.preview ?? null;
}

/** How many measurements wait or run in all processes, counted while no other can be added. */
export async function countUnderWay(execute: SqlExecutor): Promise<number> {
  await execute(sql`select pg_advisory_xact_lock(hashtext('measurement'))::text`);
  const [row] = await execute<{ count: number }>(
    sql`select count(*)::int as "count" from "measurement" where "status" in ('waiting', 'running')`,
  );
  return row?.count ?? 0;
}

export async function addMeasurement(
  execute: SqlExecutor,
  { fileId, unit, createdById }: { fileId: number; unit: string; createdById: number },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "measurement" ("fileId", "unit", "status", "createdById")
    values (${fileId}, ${unit}, 'waiting', ${createdById}) returning "id"`);
  if (row === undefined) throw new Error('the measurement was not added');
  return row.id;
}

/** Whether a waiting measurement could be taken up; false when it was cancelled meanwhile. */
export const takeUp = async (execute: SqlExecutor, id: number): Promise<boolean> =>
  (
    await execute(sql`
      update "measurement" set "status" = 'running', "heartbeatAt" = now()
       where "id" = ${id} and "status" = 'waiting' returning "id"`)
  ).length === 1;

/** Says that a measurement goes on, and how far it is; false when somebody cancelled it. */
export const beat = async (execute: SqlExecutor, id: number, progress: number): Promise<boolean> =>
  (
    await execute(sql`
      update "measurement" set "heartbeatAt" = now(), "progress" = ${progress}
       where "id" = ${id} and "status" = 'running' returning "id"`)
  ).length === 1;

export const beatWaiting = (execute: SqlExecutor, ids: readonly number[]) =>
  execute(
    sql`update "measurement" set "heartbeatAt" = now() where "id" = any(${[...ids]}) and "status" = 'waiting'`,
  );

export const finish = (
  execute: SqlExecutor,
  id: number,
  { result, preview }: { result: FileMeasure; preview: Uint8Array },
) =>
  execute(sql`
    update "measurement"
       set "status" = 'done', "progress" = 1, "result" = ${JSON.stringify(result)}::jsonb, "preview" = ${Buffer.from(preview)}
     where "id" = ${id} and "status" = 'running'`);

export const fail = (execute: SqlExecutor, ids: readonly number[], fault: string) =>
  execute(sql`
    update "measurement" set "status" = 'failed', "fault" = ${fault}
     where "id" = any(${[...ids]}) and "status" in ('waiting', 'running')`);

export const cancel = (execute: SqlExecutor, id: number) =>
  execute(
    sql`update "measurement" set "status" = 'cancelled' where "id" = ${id} and "status" in ('waiting', 'running')`,
  );

/** Several measurements at once, for records that show them. */
export const readMeasurements = (execute: SqlExecutor, ids: readonly number[]) =>
  ids.length === 0
    ? Promise.resolve<MeasurementRow[]>([])
    : execute<MeasurementRow>(sql`select ${columns} where m."id" in (${Prisma.join([...ids])})`);
