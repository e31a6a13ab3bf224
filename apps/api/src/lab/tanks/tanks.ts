import {
  type BathStatus,
  contentsNames,
  geometricVolumeL,
  type NewTank,
  type Tank,
  type TankContents,
  type TankCover,
  type TankKind,
} from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { statusOfTanks } from '../baths/index.ts';
import * as queries from '../../catalog/equipment/index.ts';

/** How pages show tanks, each with how the bath in it stands. */
export async function viewTanks(execute: SqlExecutor, rows: readonly queries.TankRow[]): Promise<Tank[]> {
  const status = await statusOfTanks(
    execute,
    rows.flatMap(({ id, baths }) => (baths.length === 0 ? [] : id)),
  );
  return rows.map((row) => toTank(row, status.get(row.id)));
}
export async function viewTank(execute: SqlExecutor, row: queries.TankRow): Promise<Tank> {
  return orNotFound((await viewTanks(execute, [row]))[0], `tank ${row.id}`);
}

function toTank(row: queries.TankRow, status: BathStatus | undefined): Tank {
  const { baths, supplies, ...tank } = row;
  const [bath] = baths;
  return {
    ...tank,
    kind: tank.kind as TankKind,
    contents: tank.contents as TankContents,
    cover: tank.cover as TankCover,
    geometricVolumeL: geometricVolumeL(tank),
    bath:
      bath === undefined || status === undefined
        ? null
        : {
            id: bath.id,
            number: bath.number,
            contents: bath.contents as TankContents,
            madeUpAt: bath.madeUpAt.toISOString(),
            status,
          },
    supplies: supplies.map(({ supply }) => supply),
    archivedAt: tank.archivedAt?.toISOString() ?? null,
    createdAt: tank.createdAt.toISOString(),
  };
}

const codeTaken = (code: string) => fieldError('code', `${code} is already in use`);

/** Adds a tank to the line. */
export async function addTank(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: NewTank },
): Promise<Tank> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readTankByCode(tx, input.code)) !== null) throw codeTaken(input.code);
    const tank = await viewTank(tx.execute, await queries.insertTank(tx, input));
    await writeAudit(tx.execute, actor, { kind: 'tank', id: tank.id, number: tank.code, action: 'added' });
    return tank;
  });
}

/** Changes a tank. What it holds, and whether it is in use, changes only while nothing depends on it. */
export async function changeTank(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: NewTank & { archived: boolean } },
): Promise<Tank> {
  return inTransaction(db, async (tx) => {
    await queries.lockEquipment(tx.execute, { table: 'tank', id });
    const row = orNotFound(await queries.readTank(tx, id), `tank ${id}`);
    const before = await viewTank(tx.execute, row);
    assertVersion({ stored: before, version, what: `Tank ${before.code}` });
    if (input.code !== before.code && (await queries.readTankByCode(tx, input.code)) !== null) {
      throw codeTaken(input.code);
    }
    if (input.contents !== before.contents) await refuseWhileNeeded(tx.execute, before, 'contents');
    if (input.archived && before.archivedAt === null) await refuseWhileNeeded(tx.execute, before, 'archived');
    const after = await viewTank(tx.execute, await queries.updateTank(tx, row, input));
    await writeAudit(tx.execute, actor, {
      kind: 'tank',
      id,
      number: after.code,
      action: 'changed',
      changes: changesBetween(before, { ...after, bath: before.bath }),
    });
    return after;
  });
}

async function refuseWhileNeeded(
  execute: SqlExecutor,
  tank: Tank,
  field: 'contents' | 'archived',
): Promise<void> {
  if (tank.bath !== null) {
    throw fieldError(
      field,
      `${tank.bath.number} (${contentsNames[tank.bath.contents]}) stands in ${tank.code}: dump it first`,
    );
  }
  const lots = await queries.lotsUnderWay(execute, { tankId: tank.id });
  if (lots.length > 0) {
    throw fieldError(field, `lots under way are assigned to ${tank.code}: ${lots.join(', ')}`);
  }
}
