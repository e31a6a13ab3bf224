import { judgeCalibration } from '@huelot/calc';
import type {
  CalibrationPoint,
  InstrumentVerdict,
  InstrumentCalibration,
  NewInstrumentCalibration,
} from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as calibrations from './calibration-queries.ts';
import * as queries from './queries.ts';

/** How a calibration came out: as found where that was read, and as left. */
export interface Verdicts {
  asFound: InstrumentVerdict | null;
  asLeft: InstrumentVerdict;
}

/**
 * Writes down a calibration of an instrument for good. An instrument that was found out of tolerance is not measured with until what
 * it was left as passes. One written down wrongly is replaced, with the reason; it stays to be seen.
 */
export function recordCalibration(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: NewInstrumentCalibration },
): Promise<InstrumentCalibration> {
  return inTransaction(db, async (tx) => {
    await queries.lockInstrument(tx.execute, id);
    const instrument = orNotFound(await queries.readInstrument(tx.execute, id), `instrument ${id}`);
    await checkDays(tx, input);
    await checkReplaced(tx, { instrumentId: id, code: instrument.code, input });
    const verdicts = verdictsOf(input.points);
    await hangCertificate(tx, { actor, fileId: input.fileId });
    const { replaces, ...facts } = input;
    const { id: calibrationId } = await calibrations.addCalibration(tx, {
      ...{ ...facts, ...verdicts, instrumentId: id, recordedById: actor.personId },
      ...{ replacesId: replaces?.id ?? null, reason: replaces?.reason ?? '' },
    });
    const last = orNotFound(await calibrations.readLastCalibration(tx.execute, id), `calibration of ${id}`);
    await queries.touchInstrument(tx, id, last.nextDueOn);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'instrument', id, number: instrument.code },
      action: replaces === null ? 'calibrated' : 'replaced a calibration of',
      changes: [
        { field: 'asFound', old: null, new: verdicts.asFound },
        { field: 'asLeft', old: null, new: verdicts.asLeft },
        { field: 'calibrationDueOn', old: instrument.calibrationDueOn, new: last.nextDueOn },
      ],
      reason: replaces?.reason ?? null,
    });
    const rows = await calibrations.toCalibration(
      tx.execute,
      await calibrations.readCalibrations(tx.execute, id),
    );
    return orNotFound(rows.find((row) => row.id === calibrationId) ?? null, `calibration ${calibrationId}`);
  });
}

/** Verdicts over all points; refuses points that say nothing, or only half. */
export function verdictsOf(points: readonly CalibrationPoint[]): Verdicts {
  for (const [index, { asFound, asLeft }] of points.entries())
    if (asFound === null && asLeft === null)
      throw fieldError(`points.${index}.asFound`, 'is needed, or as left: nothing was read at this point');
  const found = points.filter(({ asFound }) => asFound !== null).length;
  if (found !== 0 && found !== points.length)
    throw fieldError('points', 'must say as found at every point, or at none');
  const overall = (reading: (point: CalibrationPoint) => number): InstrumentVerdict =>
    points.every((point) => judgeCalibration({ ...point, reading: reading(point) }).verdict === 'pass')
      ? 'pass'
      : 'fail';
  return {
    asFound: found === 0 ? null : overall(({ asFound }) => asFound ?? 0),
    asLeft: overall(({ asFound, asLeft }) => asLeft ?? asFound ?? 0),
  };
}

async function checkDays(tx: Tx, { doneOn, nextDueOn }: NewInstrumentCalibration): Promise<void> {
  if (doneOn > (await queries.readToday(tx.execute)))
    throw fieldError('doneOn', 'must not be later than today');
  if (nextDueOn !== null && nextDueOn <= doneOn)
    throw fieldError('nextDueOn', `must be later than ${doneOn}, when it was calibrated`);
}

async function checkReplaced(
  tx: Tx,
  {
    instrumentId,
    code,
    input: { replaces },
  }: { instrumentId: number; code: string; input: NewInstrumentCalibration },
): Promise<void> {
  if (replaces === null) return;
  const former = (await calibrations.readCalibrations(tx.execute, instrumentId)).find(
    ({ id }) => id === replaces.id,
  );
  if (former === undefined) throw fieldError('replaces.id', `is no calibration of ${code}`);
  if (former.replacedById !== null)
    throw new DomainError('conflict', 'That calibration was replaced already: replace the one that counts.');
}

async function hangCertificate(
  tx: Tx,
  { actor, fileId }: { actor: Actor; fileId: number | null },
): Promise<void> {
  if (fileId === null) return;
  if ((await readFilesFor(tx.execute, { actor, ids: [fileId] })).length === 0)
    throw fieldError('fileId', `there is no file ${fileId}`);
  await keepFiles(tx.execute, [fileId]);
}
