import { forbiddenContents, type BaseMetal, type NewRack, type Rack } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

export const toRack = (row: queries.RackRow): Rack => ({
  ...row,
  baseMetal: row.baseMetal as BaseMetal,
  forbidden: forbiddenContents
    .filter(({ baseMetal }) => baseMetal === row.baseMetal)
    .map(({ contents, why }) => ({ contents, reason: why })),
  archivedAt: row.archivedAt?.toISOString() ?? null,
  createdAt: row.createdAt.toISOString(),
});
const codeTaken = (code: string) => fieldError('code', `${code} is already in use`);

/** Adds a rack. */
export async function addRack(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewRack },
): Promise<Rack> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readRackByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    const rack = toRack(await queries.addRack(tx, input));
    await writeAudit(tx.execute, actor, { kind: 'rack', id: rack.id, number: rack.code, action: 'added' });
    return rack;
  });
}

/** Changes a rack; its metal, and whether it is in use, only while no lot under way hangs on it. */
export async function changeRack(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: NewRack & { archived: boolean } },
): Promise<Rack> {
  return inTransaction(db, async (tx) => {
    await queries.lockEquipment(tx.execute, { table: 'rack', id });
    const row = orNotFound(await queries.readRack(tx, id), `rack ${id}`);
    const before = toRack(row);
    assertVersion({ stored: before, version, what: `Rack ${before.code}` });
    if (input.code !== before.code && (await queries.readRackByCode(tx, input.code)) !== null) {
      throw codeTaken(input.code);
    }
    const field = input.baseMetal !== before.baseMetal ? 'baseMetal' : 'archived';
    if (field === 'baseMetal' || (input.archived && before.archivedAt === null)) {
      const lots = await queries.lotsUnderWay(tx.execute, { rackId: id });
      if (lots.length > 0) throw fieldError(field, `lots under way hang on it: ${lots.join(', ')}`);
    }
    const after = toRack(await queries.changeRack(tx, row, input));
    await writeAudit(tx.execute, actor, {
      kind: 'rack',
      id,
      number: after.code,
      action: 'changed',
      changes: changesBetween(before, after).filter((change) => change.field !== 'forbidden'),
    });
    return after;
  });
}
