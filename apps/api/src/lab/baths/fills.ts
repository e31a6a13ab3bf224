import type { Bath, dumpBath as dumpContract, TankContents } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { lockEquipment, readTank } from '../../catalog/equipment/index.ts';
import * as queries from './queries.ts';
import * as setupQueries from './setup-queries.ts';

/** Clocks of tablets and servers differ by less than this. */
const CLOCKS_MS = 5 * 60_000;

/**
 * Starts a bath in an empty tank, made up now or on a past day. It holds what the tank is for and is watched as the bath
 * before it was.
 */
export async function startBath(
  db: Db,
  options: { actor: Actor; tankId: number; notes: string; madeUpAt?: string | undefined },
): Promise<Bath> {
  const { actor, tankId, notes } = options;
  const madeUpAt = options.madeUpAt === undefined ? new Date() : new Date(options.madeUpAt);
  if (madeUpAt.getTime() > Date.now() + CLOCKS_MS) throw fieldError('madeUpAt', 'is in the future');
  return inTransaction(db, async (tx) => {
    await lockEquipment(tx.execute, { table: 'tank', id: tankId });
    const tank = orNotFound(await readTank(tx, tankId), `tank ${tankId}`);
    const [open] = tank.baths;
    if (open !== undefined) {
      throw new DomainError(
        'conflict',
        `${open.number} is still in tank ${tank.code}: dump it before making up a new bath.`,
      );
    }
    if (tank.archivedAt !== null) {
      throw new DomainError(
        'conflict',
        `Tank ${tank.code} is archived: put it back in use before filling it.`,
      );
    }
    if (tank.contents === 'air') {
      throw new DomainError('conflict', `Tank ${tank.code} is a ${tank.kind}: it holds no bath.`);
    }
    const last = await queries.readLastDump(tx.execute, tankId);
    if (last !== null && madeUpAt < last.dumpedAt)
      throw fieldError(
        'madeUpAt',
        `is before ${last.number} was dumped, on ${last.dumpedAt.toISOString().slice(0, 10)}`,
      );
    const { id } = await queries.addBath(tx, {
      number: await nextNumber(tx.execute, 'bath'),
      tankId,
      contents: tank.contents as TankContents,
      madeUpAt,
      madeUpById: actor.personId,
      notes,
    });
    const setup = await setupQueries.readSetupBefore(tx.execute, id);
    if (setup !== null) {
      await setupQueries.addSetup(tx.execute, {
        bathId: id,
        revision: 1,
        setup,
        reason: 'as for the bath before',
        setById: actor.personId,
      });
      if (setup.components.length > 0)
        await setupQueries.addRequest(tx.execute, {
          bathId: id,
          why: 'make-up',
          components: [],
          dueAt: new Date(),
          additionId: null,
          note: '',
          askedById: actor.personId,
        });
    }
    const bath = queries.toBath(orNotFound(await queries.readBath(tx.execute, id), `bath ${id}`));
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id,
      number: bath.number,
      action: `started in tank ${tank.code}`,
      ...(options.madeUpAt === undefined
        ? {}
        : { changes: [{ field: 'madeUpAt', old: null, new: madeUpAt.toISOString() }] }),
    });
    await writeAudit(tx.execute, actor, {
      kind: 'tank',
      id: tankId,
      number: tank.code,
      action: `filled with ${bath.number}`,
    });
    return bath;
  });
}

/** Closes a fill for good. Of one that is watched it must be said where it went. */
export async function dumpBath(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: z.output<typeof dumpContract.body> },
): Promise<Bath> {
  const { actor, id, version } = options;
  const { reason, waste = null } = options.input;
  const dumpedAt = options.input.dumpedAt === undefined ? new Date() : new Date(options.input.dumpedAt);
  if (dumpedAt.getTime() > Date.now() + CLOCKS_MS) throw fieldError('dumpedAt', 'is in the future');
  return inTransaction(db, async (tx) => {
    await queries.lockBath(tx.execute, id);
    const before = queries.toBath(orNotFound(await queries.readBath(tx.execute, id), `bath ${id}`));
    if (before.dumpedAt !== null) {
      throw new DomainError('immutable', `${before.number} was dumped already: its record is closed.`);
    }
    assertVersion({ stored: before, version, what: before.number });
    const setup = (await setupQueries.readSetupsOf(tx.execute, [id])).get(id);
    if (waste === null && setup !== undefined && setup.components.length > 0)
      throw fieldError('waste', 'must be filled in: how much it was, of what kind, and where it went');
    if (options.input.dumpedAt !== undefined) await refuseTooEarly(tx.execute, { bath: before, dumpedAt });
    const brimL = await queries.readBrim(tx.execute, before.tankId);
    if (waste !== null && waste.volumeL > brimL)
      throw fieldError(
        'waste.volumeL',
        `is more than tank ${before.tankCode} holds: ${waste.volumeL} L, and to its brim it holds ${Math.round(brimL)} L`,
      );
    await queries.closeOpenWork(tx.execute, { bathId: id, personId: actor.personId });
    await queries.closeBath(tx, { id, dumpedById: actor.personId, dumpReason: reason, waste, dumpedAt });
    const told = { kind: 'bath', id, number: before.number, action: 'dumped', reason } as const;
    await writeAudit(tx.execute, actor, {
      ...told,
      changes: [
        ...(waste === null ? [] : [{ field: 'waste', old: null, new: waste }]),
        ...(options.input.dumpedAt === undefined
          ? []
          : [{ field: 'dumpedAt', old: null, new: dumpedAt.toISOString() }]),
      ],
    });
    await writeAudit(tx.execute, actor, {
      kind: 'tank',
      id: before.tankId,
      number: before.tankCode,
      action: `emptied of ${before.number}`,
      reason,
    });
    return queries.toBath(orNotFound(await queries.readBath(tx.execute, id), `bath ${id}`));
  });
}

/** A fill that was dumped on a past day left neither before it was made up nor before the last of what it is known to have seen. */
async function refuseTooEarly(
  execute: SqlExecutor,
  { bath, dumpedAt }: { bath: Bath; dumpedAt: Date },
): Promise<void> {
  const late = (what: string, at: string) =>
    fieldError('dumpedAt', `is before ${what}, on ${at.slice(0, 10)}`);
  if (dumpedAt.getTime() < Date.parse(bath.madeUpAt)) throw late(`${bath.number} was made up`, bath.madeUpAt);
  const last = await queries.readLastRecorded(execute, bath.id);
  if (last !== null && dumpedAt < last.at) throw late(last.what, last.at.toISOString());
}
