import type { NewBathSetup } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { checkVersion, invalid } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import { openBath } from './open-bath.ts';
import * as queries from './queries.ts';
import * as setupQueries from './setup-queries.ts';

/** Says how a bath is watched from now on, as a new revision: analyses keep the limits they were judged by. */
export async function setBathSetup(
  db: Db,
  of: { actor: Actor; bathId: number; version: number; input: NewBathSetup },
): Promise<void> {
  const { actor, bathId, version } = of;
  const { reason, ...setup } = of.input;
  await inTransaction(db, async (tx) => {
    const bath = await openBath(tx.run, bathId);
    checkVersion({ stored: queries.toBath(bath), version, what: bath.number });
    const methodIds = setup.plans.flatMap(({ methodId }) => methodId ?? []);
    const known = new Set((await setupQueries.readMethodIds(tx.run, methodIds)).map(({ id }) => id));
    setup.plans.forEach(({ methodId }, at) => {
      if (methodId !== null && !known.has(methodId))
        throw invalid(`plans.${at}.methodId`, `there is no method ${methodId}`);
    });
    const before = (await setupQueries.readSetupsOf(tx.run, [bathId])).get(bathId);
    const revision = (before?.revision ?? 0) + 1;
    await setupQueries.addSetup(tx.run, { bathId, revision, setup, reason, setById: actor.personId });
    await queries.touchBath(tx.run, bathId);
    await record(tx.run, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: before === undefined ? 'said how it is watched' : 'changed how it is watched',
      changes: before === undefined ? [] : changesBetween(before, setup),
      reason,
    });
  });
}
