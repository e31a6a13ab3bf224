import type { createTitrant, standardiseTitrant, TitrantLot, updateTitrant } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './titrant-queries.ts';

type Strength = z.output<typeof standardiseTitrant.body>;

export const rereadTitrant = async (tx: Tx, id: number): Promise<TitrantLot> =>
  queries.toTitrant(found(await queries.readTitrant(tx.run, id), `titrant ${id}`));

/** Adds a bottle with the strength that was found for it. */
export async function addTitrant(
  db: Db,
  of: { actor: Actor; input: z.output<typeof createTitrant.body> },
): Promise<TitrantLot> {
  const { actor } = of;
  const { reagent, label, expiresOn, notes, ...strength } = of.input;
  return inTransaction(db, async (tx) => {
    if ((await queries.readTitrantByLabel(tx, label)) !== null)
      throw invalid('label', `${label} is taken already`);
    const { id } = await queries.addTitrant(tx, { reagent, label, expiresOn, notes });
    await queries.addStandardisation(tx.run, {
      titrantId: id,
      ...strength,
      byId: actor.personId,
      replacesId: null,
      reason: '',
    });
    await record(tx.run, actor, { kind: 'titrant', id, number: label, action: 'added' });
    return rereadTitrant(tx, id);
  });
}

/** Changes expiry and notes of a bottle, or finishes it. */
export async function changeTitrant(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: z.output<typeof updateTitrant.body> },
): Promise<TitrantLot> {
  const { actor, id, version, input } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockTitrant(tx.run, id);
    const before = await rereadTitrant(tx, id);
    checkVersion({ stored: before, version, what: before.label });
    await queries.changeTitrant(tx, { id, ...input });
    const after = await rereadTitrant(tx, id);
    await record(tx.run, actor, {
      kind: 'titrant',
      id,
      number: after.label,
      action: 'changed',
      changes: changesBetween(before, after),
    });
    return after;
  });
}

/**
 * Adds a strength to a bottle inside the caller's transaction. A correction names the strength that was wrong, and
 * why; each is replaced at most once.
 */
export async function addStrength(
  tx: Tx,
  of: { actor: Actor; titrantId: number; input: Strength },
): Promise<{ standardisationId: number; label: string }> {
  const { actor, titrantId, input } = of;
  await queries.lockTitrant(tx.run, titrantId);
  const before = await rereadTitrant(tx, titrantId);
  if (input.replacesId !== null) {
    const wrong = before.standardisations.find(({ id }) => id === input.replacesId);
    if (wrong === undefined) throw invalid('replacesId', `is no strength of ${before.label}`);
    if (wrong.replaced)
      throw new Refusal(
        'conflict',
        'That strength was replaced already: correct the one that took its place.',
      );
    if (input.reason.trim() === '') throw invalid('reason', 'is needed: say what was wrong');
  }
  const standardisationId = await queries.addStandardisation(tx.run, {
    titrantId,
    ...input,
    byId: actor.personId,
  });
  await queries.touchTitrant(tx.run, titrantId);
  await record(tx.run, actor, {
    kind: 'titrant',
    id: titrantId,
    number: before.label,
    action: input.replacesId === null ? 'standardised' : 'corrected the strength',
    changes: [{ field: 'eqPerLitre', old: before.current.eqPerLitre, new: input.eqPerLitre }],
    reason: input.reason || null,
  });
  return { standardisationId, label: before.label };
}
