import type { createInstrument, Instrument } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { checkVersion, found, invalid } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './instrument-queries.ts';

type NewInstrument = z.output<typeof createInstrument.body>;
const codeTaken = (code: string) => invalid('code', `${code} is taken already`);

/** Adds an instrument. */
export async function addInstrument(db: Db, of: { actor: Actor; input: NewInstrument }): Promise<Instrument> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    if ((await queries.readInstrumentByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    const { id } = await queries.addInstrument(tx, input);
    await record(tx.run, actor, { kind: 'instrument', id, number: input.code, action: 'added' });
    return queries.toInstrument(found(await queries.readInstrument(tx.run, id), `instrument ${id}`));
  });
}

/** Changes an instrument, the day its calibration is due too. */
export async function changeInstrument(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: NewInstrument & { archived: boolean } },
): Promise<Instrument> {
  const { actor, id, version } = of;
  const { archived, ...input } = of.input;
  return inTransaction(db, async (tx) => {
    await queries.lockInstrument(tx.run, id);
    const row = found(await queries.readInstrument(tx.run, id), `instrument ${id}`);
    checkVersion({ stored: queries.toInstrument(row), version, what: `Instrument ${row.code}` });
    if (input.code !== row.code && (await queries.readInstrumentByCode(tx, input.code)) !== null)
      throw codeTaken(input.code);
    const archivedAt = archived ? (row.archivedAt ?? new Date()) : null;
    await queries.changeInstrument(tx, { id, input, archivedAt });
    const after = queries.toInstrument(found(await queries.readInstrument(tx.run, id), `instrument ${id}`));
    await record(tx.run, actor, {
      kind: 'instrument',
      id,
      number: after.code,
      action: 'changed',
      changes: changesBetween(queries.toInstrument(row), after),
    });
    return after;
  });
}
