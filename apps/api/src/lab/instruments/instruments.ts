import type { createInstrument, Instrument, InstrumentRecord } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { readLastCalibration, readCalibrations, toCalibration } from './calibration-queries.ts';
import * as queries from './queries.ts';

type NewInstrument = z.output<typeof createInstrument.body>;
const codeTaken = (code: string) => fieldError('code', `${code} is already in use`);

/** Adds an instrument. */
export async function addInstrument(
  db: Db,
  { actor, input }: { actor: Actor; input: NewInstrument },
): Promise<Instrument> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readInstrumentByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    const { id } = await queries.addInstrument(tx, input);
    await writeAudit(tx.execute, actor, { kind: 'instrument', id, number: input.code, action: 'added' });
    return queries.toInstrument(orNotFound(await queries.readInstrument(tx.execute, id), `instrument ${id}`));
  });
}

/** Changes an instrument. Nobody puts off by hand what a calibration says is due. */
export async function changeInstrument(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewInstrument & { archived: boolean } },
): Promise<Instrument> {
  const { actor, id, version } = options;
  const { archived, ...input } = options.input;
  return inTransaction(db, async (tx) => {
    await queries.lockInstrument(tx.execute, id);
    const row = orNotFound(await queries.readInstrument(tx.execute, id), `instrument ${id}`);
    assertVersion({ stored: queries.toInstrument(row), version, what: `Instrument ${row.code}` });
    if (input.code !== row.code && (await queries.readInstrumentByCode(tx, input.code)) !== null)
      throw codeTaken(input.code);
    const last = await readLastCalibration(tx.execute, id);
    if (
      last?.nextDueOn &&
      (input.calibrationDueOn === null || input.calibrationDueOn > last.nextDueOn) &&
      input.calibrationDueOn !== row.calibrationDueOn
    )
      throw fieldError(
        'calibrationDueOn',
        `must be at most ${last.nextDueOn}, which its last calibration says: only another calibration puts it off`,
      );
    const archivedAt = archived ? (row.archivedAt ?? new Date()) : null;
    await queries.changeInstrument(tx, { id, input, archivedAt });
    const after = queries.toInstrument(
      orNotFound(await queries.readInstrument(tx.execute, id), `instrument ${id}`),
    );
    await writeAudit(tx.execute, actor, {
      kind: 'instrument',
      id,
      number: after.code,
      action: 'changed',
      changes: changesBetween(queries.toInstrument(row), after),
    });
    return after;
  });
}

/** One instrument with all that is known of it. */
export async function viewInstrument(
  { execute }: Pick<Queryable, 'execute'>,
  id: number,
): Promise<InstrumentRecord> {
  const row = orNotFound(await queries.readInstrument(execute, id), `instrument ${id}`);
  const calibrations = await readCalibrations(execute, id);
  return {
    instrument: queries.toInstrument(row),
    calibrations: await toCalibration(execute, calibrations),
    places: await queries.readPlaces(execute, id),
  };
}
