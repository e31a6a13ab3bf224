import type { createTitrant, standardiseTitrant, TitrantLot, updateTitrant } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './titrant-queries.ts';

type Strength = z.output<typeof standardiseTitrant.body>;

export const rereadTitrant = async (tx: Tx, id: number): Promise<TitrantLot> =>
  queries.toTitrant(orNotFound(await queries.readTitrant(tx.execute, id), `titrant ${id}`));

/** Adds a bottle with the strength that was found for it. */
export async function addTitrant(
  db: Db,
  options: { actor: Actor; input: z.output<typeof createTitrant.body> },
): Promise<TitrantLot> {
  const { actor } = options;
  const { reagent, label, expiresOn, notes, ...strength } = options.input;
  return inTransaction(db, async (tx) => {
    if ((await queries.readTitrantByLabel(tx, label)) !== null)
      throw fieldError('label', `${label} is already in use`);
    const { id } = await queries.addTitrant(tx, { reagent, label, expiresOn, notes });
    await queries.addStandardisation(tx.execute, {
      titrantId: id,
      ...strength,
      byId: actor.personId,
      replacesId: null,
      reason: '',
    });
    await writeAudit(tx.execute, actor, { kind: 'titrant', id, number: label, action: 'added' });
    return rereadTitrant(tx, id);
  });
}

/** Changes expiry and notes of a bottle, or finishes it. */
export async function changeTitrant(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: z.output<typeof updateTitrant.body> },
): Promise<TitrantLot> {
  return inTransaction(db, async (tx) => {
    await queries.lockTitrant(tx.execute, id);
    const before = await rereadTitrant(tx, id);
    assertVersion({ stored: before, version, what: before.label });
    await queries.changeTitrant(tx, { id, ...input });
    const after = await rereadTitrant(tx, id);
    await writeAudit(tx.execute, actor, {
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
  { actor, titrantId, input }: { actor: Actor; titrantId: number; input: Strength },
): Promise<{ standardisationId: number; label: string }> {
  await queries.lockTitrant(tx.execute, titrantId);
  const before = await rereadTitrant(tx, titrantId);
  if (input.replacesId !== null) {
    const wrong = before.standardisations.find(({ id }) => id === input.replacesId);
    if (wrong === undefined) throw fieldError('replacesId', `is no strength of ${before.label}`);
    if (wrong.replaced)
      throw new DomainError(
        'conflict',
        'That strength was replaced already: correct the one that took its place.',
      );
    if (input.reason.trim() === '') throw fieldError('reason', 'is needed: say what was wrong');
  }
  const standardisationId = await queries.addStandardisation(tx.execute, {
    titrantId,
    ...input,
    byId: actor.personId,
  });
  await queries.touchTitrant(tx.execute, titrantId);
  await writeAudit(tx.execute, actor, {
    kind: 'titrant',
    id: titrantId,
    number: before.label,
    action: input.replacesId === null ? 'standardised' : 'corrected the strength',
    changes: [{ field: 'eqPerLitre', old: before.current.eqPerLitre, new: input.eqPerLitre }],
    reason: input.reason || null,
  });
  return { standardisationId, label: before.label };
}
