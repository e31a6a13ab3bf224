import type { NewPowerSupply, PowerSupply } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

export const toSupply = ({ tanks, ...row }: queries.SupplyRow): PowerSupply => ({
  ...row,
  tanks: tanks.map(({ tank }) => tank),
  tankIds: tanks.map(({ tank }) => tank.id),
  archivedAt: row.archivedAt?.toISOString() ?? null,
  createdAt: row.createdAt.toISOString(),
});

/** Only tanks with bus bars can be reached, and each once. */
async function checkTanks(tx: Tx, ids: readonly number[]): Promise<void> {
  const tanks = new Map((await queries.readTankKinds(tx, ids)).map((tank) => [tank.id, tank]));
  ids.forEach((id, index) => {
    const path = `tankIds.${index}`;
    const tank = tanks.get(id);
    if (tank === undefined) throw fieldError(path, `there is no tank ${id}`);
    if (ids.indexOf(id) !== index) throw fieldError(path, `${tank.code} is listed twice`);
    if (tank.kind !== 'electrolytic') throw fieldError(path, `${tank.code} is no electrolytic tank`);
    if (tank.archivedAt !== null) throw fieldError(path, `${tank.code} is archived`);
  });
}
const codeTaken = (code: string) => fieldError('code', `${code} is already in use`);

/** Adds a power supply. */
export async function addSupply(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewPowerSupply },
): Promise<PowerSupply> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readSupplyByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    await checkTanks(tx, input.tankIds);
    const supply = toSupply(await queries.addSupply(tx, input));
    await writeAudit(tx.execute, actor, {
      kind: 'supply',
      id: supply.id,
      number: supply.code,
      action: 'added',
    });
    return supply;
  });
}

/** Changes a power supply; it is not archived while lots under way are assigned to it. */
export async function changeSupply(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: NewPowerSupply & { archived: boolean } },
): Promise<PowerSupply> {
  return inTransaction(db, async (tx) => {
    await queries.lockEquipment(tx.execute, { table: 'power_supply', id });
    const row = orNotFound(await queries.readSupply(tx, id), `power supply ${id}`);
    const before = toSupply(row);
    assertVersion({ stored: before, version, what: `Power supply ${before.code}` });
    if (input.code !== before.code && (await queries.readSupplyByCode(tx, input.code)) !== null) {
      throw codeTaken(input.code);
    }
    await checkTanks(
      tx,
      input.tankIds.filter((tankId) => !before.tankIds.includes(tankId)),
    );
    if (input.archived && before.archivedAt === null) {
      const lots = await queries.lotsUnderWay(tx.execute, { supplyId: id });
      if (lots.length > 0)
        throw fieldError('archived', `lots under way are assigned to it: ${lots.join(', ')}`);
    }
    const after = toSupply(await queries.changeSupply(tx, row, input));
    await writeAudit(tx.execute, actor, {
      kind: 'supply',
      id,
      number: after.code,
      action: 'changed',
      changes: changesBetween(inWords(before), inWords(after)),
    });
    return after;
  });
}
/** For the history: tanks by the code people know. */
const inWords = ({ tankIds: _, tanks, ...supply }: PowerSupply) => ({
  ...supply,
  tanks: tanks.map(({ code }) => code),
});
