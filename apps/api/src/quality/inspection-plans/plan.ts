import type { Characteristic, InspectionPlan, setInspectionPlan, SeverityName } from '@huelot/contracts';
import type { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

type Asked<Body> = { actor: Actor; partId: number; input: Body };

/** Where severity stands: as the last move left it, and normal before the first. */
export const severityOf = (moves: readonly queries.MoveRow[], name: string): SeverityName =>
  moves.findLast((move) => isSame(move.name, name))?.severity ?? 'normal';

export const isSame = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();

export const toCharacteristic = (
  { level, aql, limitNumber, ...row }: queries.CharacteristicRow,
  moves: readonly queries.MoveRow[],
): Characteristic => ({
  ...row,
  sampling:
    level === null || aql === null ? null : ({ level, aql, limitNumber } as Characteristic['sampling']),
  severity: severityOf(moves, row.name),
  moves: moves
    .filter(({ name }) => isSame(name, row.name))
    .map(({ lotId, lotNumber, at, was, severity, because, by }) => ({
      ...{ was, severity, because, by },
      lot: lotId === null || lotNumber === null ? null : { id: lotId, number: lotNumber },
      at: at.toISOString(),
    })),
});

/** The plan of a part in force, and where each characteristic stands. */
export async function viewPlan({ execute }: Queryable, partId: number): Promise<InspectionPlan> {
  const part = orNotFound(await queries.readPart(execute, partId), `part ${partId}`);
  const [plan, moves] = await Promise.all([
    queries.readPlan(execute, partId),
    queries.readMoves(execute, part),
  ]);
  if (plan === null) return { revision: null, note: '', setBy: null, setAt: null, characteristics: [] };
  const { revision, note, setBy, setAt } = plan;
  return {
    ...{ revision, note, setBy, setAt: setAt.toISOString() },
    characteristics: plan.characteristics.map((row) => toCharacteristic(row, moves)),
  };
}

/** Writes the next revision; a characteristic that keeps its name keeps its severity. */
export function setPlan(
  db: Db,
  { actor, partId, input }: Asked<z.output<typeof setInspectionPlan.body>>,
): Promise<InspectionPlan> {
  return inTransaction(db, async (tx) => {
    const part = orNotFound(await queries.readPart(tx.execute, partId), `part ${partId}`);
    await queries.lockPart(tx, part);
    const before = await queries.readPlan(tx.execute, partId);
    if ((before?.revision ?? null) !== input.follows)
      throw new DomainError(
        'conflict',
        `Revision ${before?.revision ?? 'none'} of the plan is in force: somebody wrote it since you began.`,
      );
    const revision = (before?.revision ?? 0) + 1;
    await queries.addPlan(tx, {
      ...{ partId, revision, note: input.note, setById: actor.personId },
      characteristics: input.characteristics.map(({ sampling, ...one }) => ({
        ...one,
        level: sampling?.level ?? null,
        aql: sampling?.aql ?? null,
        limitNumber: sampling?.limitNumber ?? null,
      })),
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'part', id: partId, number: part.partNumber, reason: input.note },
      action: `wrote inspection plan revision ${revision}`,
      changes: [
        ...signature(actor, 'wrote'),
        {
          field: 'characteristics',
          old: before?.characteristics.map(({ name }) => name) ?? null,
          new: input.characteristics.map(({ name }) => name),
        },
      ],
    });
    return viewPlan(tx, partId);
  });
}

/** Takes a discontinued inspection up again: on tightened, and with a history that starts there. */
export function resume(
  db: Db,
  { actor, partId, input }: Asked<{ name: string; reason: string }>,
): Promise<InspectionPlan> {
  return inTransaction(db, async (tx) => {
    const part = orNotFound(await queries.readPart(tx.execute, partId), `part ${partId}`);
    await queries.lockPart(tx, part);
    const plan = await queries.readPlan(tx.execute, partId);
    const name = plan?.characteristics.find((one) => isSame(one.name, input.name))?.name;
    if (name === undefined) throw fieldError('name', 'is no characteristic of the plan in force');
    if (severityOf(await queries.readMoves(tx.execute, part), name) !== 'stopped')
      throw new DomainError('conflict', `Inspection of ${name} is not discontinued.`);
    await queries.addMove(tx, {
      ...{ customerId: part.customerId, partNumber: part.partNumber, name },
      ...{ was: 'stopped', severity: 'tightened', because: input.reason },
      ...{ inspectionId: null, byId: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'part', id: partId, number: part.partNumber, reason: input.reason },
      action: `took inspection of ${name} up again`,
      changes: signature(actor, 'decided'),
    });
    return viewPlan(tx, partId);
  });
}
