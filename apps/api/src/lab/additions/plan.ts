import type { Addition, planBathAddition, PlannedStep } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { readAnalysis } from '../analyses/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { openBath, releaseWithdrawn, bumpBathVersion } from '../baths/index.ts';
import { type LotRow, readLot } from '../chemicals/index.ts';
import { computeAddition } from './compute.ts';
import { doubtsOfAddition } from './doubts.ts';
import * as queries from './queries.ts';
import { checkSecondAnalysis } from './second-analysis.ts';
import { readBathOnHand, stopsOf } from './stops.ts';
import { viewAddition, viewSheet } from './view.ts';
import * as writing from './write-queries.ts';

type Input = z.output<typeof planBathAddition.body>;

/**
 * Plans an addition to a bath as it stands. Whoever planned on an older state of the bath is refused and shown what
 * happened meanwhile: an addition is never planned twice.
 */
export async function planAddition(
  db: Db,
  { actor, bathId, version, input }: { actor: Actor; bathId: number; version: number; input: Input },
): Promise<Addition> {
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.execute, bathId);
    if (bath.version !== version) throw await outdated(tx.execute, bathId);
    const waiting = await queries.readPlanned(tx.execute, bathId);
    if (waiting !== null)
      throw new DomainError(
        'conflict',
        `${waiting.number} of ${waiting.plannedBy} is planned and not done: do it or withdraw it first.`,
        { current: await viewSheet(tx.execute, bathId) },
      );
    await checkInput(tx, { bathId, input });
    const answer = await answerTo(tx, input);
    const steps = input.steps ?? answer?.computed.steps;
    if (steps === undefined) throw fieldError('steps', 'must be filled in where nothing is computed');
    if (input.steps === null && steps.every(({ kg }) => kg === 0))
      throw new DomainError(
        'conflict',
        'Nothing needs to be added: the bath is at its target and at its mark.',
      );
    const edited = input.steps !== null && answer !== null && !sameSteps(input.steps, answer.computed.steps);
    if (edited && input.reason.trim() === '')
      throw fieldError('reason', 'is needed: say why the computed steps were changed');
    const lots = await checkLots(tx, steps);
    const poured = steps.map(({ action, chemicalLotId }) => ({
      action,
      lot: lots.get(chemicalLotId ?? 0) ?? null,
    }));
    const stops = stopsOf(poured, { bath: await readBathOnHand(tx, bath), planned: null });
    if (stops.length > 0 && input.reason.trim() === '')
      throw fieldError('reason', `is needed, because it is dangerous: ${stops.join('; ')}`);
    await checkSecondAnalysis(tx, {
      bath,
      kind: input.kind,
      steps,
      bathKg: answer?.computed.bathBefore?.kg ?? null,
      startMassFraction: input.request?.type === 'strength' ? input.request.massFraction : null,
    });
    // A computed plan keeps within the room of its tank by itself.
    const doubts =
      input.steps === null
        ? []
        : await doubtsOfAddition(tx, {
            bathId,
            moves: steps,
            steps,
            readings: { volumeL: input.request?.volumeL ?? null, beforeC: null, afterC: null },
          });
    if (doubts.length > 0 && input.reason.trim() === '')
      throw fieldError('reason', `is needed: ${doubts.join('; ')}`);
    const planQuestions = [...stops, ...doubts];
    const bathVersion = await bumpBathVersion(tx.execute, bathId);
    const number = await nextNumber(tx.execute, 'addition');
    const id = await writing.addPlan(tx.execute, {
      number,
      bathId,
      kind: input.kind,
      fromAnalysisId: input.fromAnalysisId,
      request: input.request,
      computed: answer === null ? null : { ...answer.computed, cautions: answer.cautions },
      steps,
      edited,
      planReason: input.reason,
      planQuestions,
      bathVersion,
      plannedById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'addition',
      id,
      number,
      action: `planned for ${bath.number}`,
      reason: input.reason || null,
    });
    return viewAddition(tx.execute, id);
  });
}

/** Says what happened to a bath since somebody looked at it, with the sheet as it is now. */
export async function outdated(execute: SqlExecutor, bathId: number): Promise<DomainError> {
  const sheet = await viewSheet(execute, bathId);
  const [last] = sheet.recent;
  const what =
    last === undefined
      ? 'Something was recorded'
      : `The last addition is ${last.number} (${last.words}), ${last.state} by ${last.doneBy ?? last.plannedBy}`;
  return new DomainError(
    'version-conflict',
    `${sheet.bath.number} changed since you looked at it. ${what}. Nothing was saved: plan again from the bath as it is now.`,
    { current: sheet },
  );
}

async function checkInput(tx: Tx, { bathId, input }: { bathId: number; input: Input }): Promise<void> {
  const { kind, request, fromAnalysisId, reason } = input;
  if (request !== null && (request.type === 'level') !== (kind === 'water'))
    throw fieldError(
      'request.type',
      kind === 'water' ? 'must be level for water' : 'level is for water only',
    );
  if (kind === 'make-up' && (await queries.hasMakeUp(tx.execute, bathId)))
    throw new DomainError(
      'conflict',
      'This bath was made up already: plan an addition of chemicals instead.',
    );
  if (fromAnalysisId !== null) {
    const analysis = await readAnalysis(tx.execute, fromAnalysisId);
    if (analysis?.bath.id !== bathId) throw fieldError('fromAnalysisId', 'is not an analysis of this bath');
    if (analysis.voidedAt !== null)
      throw fieldError('fromAnalysisId', `${analysis.number} was voided: start from an analysis that counts`);
    if (analysis.supersededBy !== null)
      throw fieldError(
        'fromAnalysisId',
        `${analysis.number} was superseded by ${analysis.supersededBy.number}: start from that one`,
      );
  }
  const needsReason = fromAnalysisId === null && (kind === 'chemical' || kind === 'decant');
  if (needsReason && reason.trim() === '')
    throw fieldError('reason', 'is needed: no analysis calls for this');
}

async function answerTo(tx: Tx, { request }: Input) {
  if (request === null) return null;
  return computeAddition(
    request,
    request.type === 'level' ? null : await readLot(tx.execute, request.chemicalLotId),
  );
}

async function checkLots(tx: Tx, steps: readonly PlannedStep[]): Promise<Map<number, LotRow>> {
  const lots = new Map<number, LotRow>();
  for (const [at, { action, chemicalLotId }] of steps.entries()) {
    const place = `steps.${at}.chemicalLotId`;
    if (action !== 'add-stock') {
      if (chemicalLotId !== null) throw fieldError(place, 'must be empty: only stock comes from a lot');
      continue;
    }
    if (chemicalLotId === null) throw fieldError(place, 'must be filled in: which lot it is taken from');
    const lot = await readLot(tx.execute, chemicalLotId);
    if (lot === null) throw fieldError(place, `there is no chemical lot ${chemicalLotId}`);
    if (lot.status !== 'open')
      throw fieldError(place, `${lot.chemicalCode} lot ${lot.supplierLot} is ${lot.status}`);
    lots.set(lot.id, lot);
  }
  return lots;
}

const sameSteps = (some: readonly PlannedStep[], others: readonly PlannedStep[]): boolean =>
  some.length === others.length &&
  some.every((step, index) => {
    const other = others[index];
    return (
      other !== undefined &&
      step.action === other.action &&
      step.chemicalLotId === other.chemicalLotId &&
      Math.abs(step.kg - other.kg) <= 1e-9 * Math.max(step.kg, other.kg)
    );
  });

/** Withdraws a planned addition, of which nothing was booked; a hold that it was begun with ends. */
export async function withdrawAddition(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<Addition> {
  return inTransaction(db, async (tx) => {
    const { bath } = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`);
    await openBath(tx.execute, bath.id);
    const row = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`);
    if (row.state !== 'planned') throw new DomainError('immutable', `${row.number} is ${row.state} already.`);
    await writing.setWithdrawn(tx.execute, { id, personId: actor.personId, reason });
    await releaseWithdrawn(tx.execute, { actor, addition: row, bath });
    await bumpBathVersion(tx.execute, bath.id);
    await writeAudit(tx.execute, actor, {
      kind: 'addition',
      id,
      number: row.number,
      action: 'withdrawn',
      reason,
    });
    return viewAddition(tx.execute, id);
  });
}
