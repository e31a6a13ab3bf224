import { mmPer, type LengthUnit, type Measurement, type StoredFile } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import type { Db } from '../../db/client.ts';
import { found, invalid } from '../../refusal.ts';
import { getFile } from '../files/index.ts';
import type { ModelKind } from './measure-model.ts';
import * as queries from './measurement-queries.ts';
import type { Measuring } from './measuring.ts';

const kinds: Record<string, ModelKind> = { 'model/stl': 'stl', 'model/step': 'step' };
/** What stands in the table where the file does not say. */
const UNKNOWN = 'unknown';

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
  await queries.failSilent(db.run);
  const row = found(await queries.readMeasurement(db.run, id), `measurement ${id}`);
  return toMeasurement(row, await getFile(db.run, row.fileId));
}

/** Starts measuring a model file; one that is measured or being measured already is not measured again. */
export async function measureFile(
  db: Db,
  of: { actor: Actor; fileId: number; measuring: Measuring },
): Promise<Measurement> {
  const file = await getFile(db.run, of.fileId).catch(() => {
    throw invalid('fileId', `is ${of.fileId}; there is no such file`);
  });
  const kind = kinds[file.mediaType];
  if (kind === undefined) throw invalid('fileId', `is ${file.name}; only STL and STEP files are measured`);
  await queries.failSilent(db.run);
  const standing = await queries.readStanding(db.run, file.id);
  if (standing !== null) return toMeasurement(standing, file);
  const id = await queries.addMeasurement(db.run, {
    fileId: file.id,
    unit: kind === 'step' ? 'mm' : UNKNOWN,
    createdById: of.actor.personId,
  });
  of.measuring.add({ id, fileId: file.id, sizeBytes: file.sizeBytes, kind });
  return getMeasurement(db, id);
}

/** Stops a measurement that waits or runs, in whichever process; one that is over stays as it is. */
export async function cancelMeasurement(
  db: Db,
  of: { id: number; measuring: Measuring },
): Promise<Measurement> {
  await queries.cancel(db.run, of.id);
  of.measuring.cancel(of.id);
  return getMeasurement(db, of.id);
}

/** The coarse mesh of a measurement that is done. */
export const getPreview = async (db: Db, id: number): Promise<Buffer> =>
  Buffer.from(found(await queries.readPreview(db.run, id), `preview of measurement ${id}`));
