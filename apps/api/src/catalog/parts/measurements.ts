import { mmPer, type LengthUnit, type Measurement, type StoredFile } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db } from '../../db/client.ts';
import { onceKept } from '../../db/unit.ts';
import { DomainError, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { getFile, getFileFor } from '../../core/files/index.ts';
import type { ModelKind } from './measure-model.ts';
import * as queries from './measurement-queries.ts';
import type { Measuring } from './measuring.ts';

const kinds: Record<string, ModelKind> = { 'model/stl': 'stl', 'model/step': 'step' };
/** What stands in the table where the file does not say. */
const UNKNOWN = 'unknown';
/** How many may wait or be measured at once, in all processes: each may take minutes, and they go one after the other. */
export const maxUnderWay = 20;

const toMeasurement = (row: queries.MeasurementRow, file: StoredFile): Measurement => ({
  id: row.id,
  file,
  statedUnit: row.unit in mmPer ? (row.unit as LengthUnit) : null,
  status: row.status,
  progress: row.progress,
  result: row.result,
  fault: row.fault,
  createdBy: row.createdBy,
  createdAt: row.createdAt.toISOString(),
});

/** A measurement as it stands, or a refusal that there is none. */
export async function getMeasurement(db: Db, id: number): Promise<Measurement> {
  await queries.failSilent(db.execute);
  const row = orNotFound(await queries.readMeasurement(db.execute, id), `measurement ${id}`);
  return toMeasurement(row, await getFile(db.execute, row.fileId));
}

/** Starts measuring a model file; one that is measured or being measured already is not measured again. */
export async function measureFile(
  db: Db,
  { actor, fileId, measuring }: { actor: Actor; fileId: number; measuring: Measuring },
): Promise<Measurement> {
  const file = await getFileFor(db.execute, { actor, id: fileId }).catch(() => {
    throw fieldError('fileId', `is ${fileId}; there is no such file`);
  });
  const kind = kinds[file.mediaType];
  if (kind === undefined) throw fieldError('fileId', `is ${file.name}; only STL and STEP files are measured`);
  await queries.failSilent(db.execute);
  const { standing, id } = await withSqlTransaction(db, async (execute) => {
    const underWay = await queries.countUnderWay(execute);
    const row = await queries.readStanding(execute, file.id);
    if (row !== null) return { standing: row, id: row.id };
    if (underWay >= maxUnderWay) throw tooMany();
    const unit = kind === 'step' ? 'mm' : UNKNOWN;
    const added = await queries.addMeasurement(execute, {
      fileId: file.id,
      unit,
      createdById: actor.personId,
    });
    return { standing: null, id: added };
  });
  if (standing !== null) return toMeasurement(standing, file);
  onceKept(() => measuring.add({ id, fileId: file.id, sizeBytes: file.sizeBytes, kind }));
  return getMeasurement(db, id);
}

const tooMany = () =>
  new DomainError(
    'too-many-requests',
    `${maxUnderWay} models wait to be measured already, the most there may be. Cancel one, wait until one is done, or type the area.`,
  );

/** Stops a measurement that waits or runs, in whichever process; one that is over stays as it is. */
export async function cancelMeasurement(
  db: Db,
  { id, measuring }: { id: number; measuring: Measuring },
): Promise<Measurement> {
  await queries.cancel(db.execute, id);
  onceKept(() => measuring.cancel(id));
  return getMeasurement(db, id);
}

/** The coarse mesh of a measurement that is done. */
export const getPreview = async (db: Db, id: number): Promise<Buffer> =>
  Buffer.from(orNotFound(await queries.readPreview(db.execute, id), `preview of measurement ${id}`));
