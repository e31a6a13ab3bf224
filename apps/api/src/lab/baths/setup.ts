import type { NewBathSetup } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { assertVersion, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { openBath } from './open-bath.ts';
import * as queries from './queries.ts';
import * as setupQueries from './setup-queries.ts';

/** Says how a bath is watched from now on, as a new revision: analyses keep the limits they were judged by. */
export async function setBathSetup(
  db: Db,
  options: { actor: Actor; bathId: number; version: number; input: NewBathSetup },
): Promise<void> {
  const { actor, bathId, version } = options;
  const { reason, ...setup } = options.input;
  await inTransaction(db, async (tx) => {
    const bath = await openBath(tx.execute, bathId);
    assertVersion({ stored: queries.toBath(bath), version, what: bath.number });
    const methodIds = setup.plans.flatMap(({ methodId }) => methodId ?? []);
    const known = new Set((await setupQueries.readMethodIds(tx.execute, methodIds)).map(({ id }) => id));
    setup.plans.forEach(({ methodId }, index) => {
      if (methodId !== null && !known.has(methodId))
        throw fieldError(`plans.${index}.methodId`, `there is no method ${methodId}`);
    });
    const before = (await setupQueries.readSetupsOf(tx.execute, [bathId])).get(bathId);
    const revision = (before?.revision ?? 0) + 1;
    await setupQueries.addSetup(tx.execute, { bathId, revision, setup, reason, setById: actor.personId });
    await queries.bumpBathVersion(tx.execute, bathId);
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: before === undefined ? 'set the monitoring plan' : 'changed the monitoring plan',
      changes: before === undefined ? [] : changesBetween(before, setup),
      reason,
    });
  });
}
