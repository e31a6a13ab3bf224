import { type Addition, may, minorDigitsOf } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { readShop } from '../../catalog/settings/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import {
  addHold,
  addRequest,
  type BathRow,
  lockBath,
  openBath,
  readHoldOfAddition,
  readBath,
  readSetupsOf,
  bumpBathVersion,
} from '../baths/index.ts';
import { addMovement } from '../chemicals/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { checkLines } from './check-lines.ts';
import { outdated } from './plan.ts';
import * as queries from './queries.ts';
import { needsMixing, needsSecondPerson, viewAddition } from './view.ts';
import * as writing from './write-queries.ts';

const CLOCKS_MS = 5 * 60_000;
const DAY_MS = 86_400_000;

/**
 * Books what was really added: the stock falls by it, an analysis that confirms it is asked for, and the bath is on hold
 * from the start of it where something has to mix in. Only the state
 * of the bath that it was planned for counts; after anything else the plan must be made anew.
 */
export async function completeAddition(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: writing.Actuals },
): Promise<Addition> {
  const checker = await checkerOf(db, { actor, input });
  return inTransaction(db, async (tx) => {
    const bathId = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`).bath.id;
    const bath = await openBath(tx.execute, bathId);
    const row = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`);
    if (row.state !== 'planned') throw new DomainError('immutable', `${row.number} is ${row.state} already.`);
    if (bath.version !== row.bathVersion) throw await outdated(tx.execute, bath.id);
    checkTimes(bath, { kind: row.kind, input });
    const actions = input.lines.map(({ action }) => action);
    if (checker === null && needsSecondPerson(row.contents, actions))
      throw fieldError(
        'checker',
        'must be filled in: adding hot caustic takes two people, and the second confirms with a PIN',
      );
    const doneQuestions = await checkLines(tx, {
      bath,
      steps: row.steps,
      input,
      giveBack: new Map(),
      hasChecker: checker !== null,
    });
    await writing.setDone(tx.execute, {
      ...input,
      id,
      doneById: actor.personId,
      checkedById: checker?.personId ?? null,
      doneQuestions,
    });
    await takeFromStock(tx, { actor, additionId: id, input });
    if (input.hold === true || needsMixing(row.contents, actions))
      await holdForMixing(tx, { actor, row, from: new Date(input.startedAt) });
    await askToConfirm(tx, { actor, row, at: new Date(input.finishedAt) });
    await bumpBathVersion(tx.execute, bath.id);
    await writeAudit(tx.execute, actor, {
      kind: 'addition',
      id,
      number: row.number,
      action: `done in ${bath.number}`,
      ...(checker === null ? {} : { changes: [{ field: 'checkedBy', old: null, new: checker.displayName }] }),
      reason: input.reason || null,
    });
    return viewAddition(tx.execute, id);
  });
}

/** Books what was really added in place of what was booked: the stock gets back what the wrong record took. */
export async function correctAddition(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: writing.Actuals },
): Promise<Addition> {
  const checker = await checkerOf(db, { actor, input });
  return inTransaction(db, async (tx) => {
    const bathId = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`).bath.id;
    await lockBath(tx.execute, bathId);
    const bath = orNotFound(await readBath(tx.execute, bathId), `bath ${bathId}`);
    const row = orNotFound(await queries.readAddition(tx.execute, id), `addition ${id}`);
    if (row.correctedBy !== null)
      throw new DomainError(
        'conflict',
        `${row.number} was corrected already by ${row.correctedBy.number}: correct that one.`,
      );
    if (row.state !== 'done')
      throw new DomainError('conflict', `${row.number} is ${row.state}: only what was done is corrected.`);
    checkTimes(bath, { kind: row.kind, input });
    const checkedById = checker?.personId ?? (row.checkedById === actor.personId ? null : row.checkedById);
    const doneQuestions = await checkLines(tx, {
      bath,
      steps: row.steps,
      input,
      giveBack: amountsOf(row),
      hasChecker: checkedById !== null,
    });
    const number = await nextNumber(tx.execute, 'addition');
    const corrected = await writing.addCorrection(tx.execute, {
      ...input,
      number,
      correctsId: id,
      bathVersion: row.bathVersion,
      doneById: actor.personId,
      checkedById,
      doneQuestions,
    });
    for (const line of row.lines) {
      if (line.chemicalLotId === null) continue;
      await addMovement(tx.execute, {
        lotId: line.chemicalLotId,
        kind: 'correction',
        kg: line.kg,
        lineId: line.id,
        reason: `${row.number} corrected by ${number}: ${input.reason}`,
        personId: actor.personId,
      });
    }
    await takeFromStock(tx, { actor, additionId: corrected, input });
    const open = await writing.takeOverRequest(tx.execute, {
      additionId: id,
      personId: actor.personId,
      number,
    });
    if (open !== null)
      await addRequest(tx.execute, {
        bathId,
        why: row.kind === 'make-up' ? 'make-up' : 'after-addition',
        ...open,
        additionId: corrected,
        note: '',
        askedById: actor.personId,
      });
    await bumpBathVersion(tx.execute, bathId);
    await writeAudit(tx.execute, actor, {
      kind: 'addition',
      id: corrected,
      number,
      action: `recorded in place of ${row.number}`,
      reason: input.reason,
    });
    return viewAddition(tx.execute, corrected);
  });
}

/** Somebody else of this shop who proves it, and who works with baths. */
async function checkerOf(db: Db, { actor, input }: { actor: Actor; input: writing.Actuals }) {
  if (input.checker === null) return null;
  if (input.checker.personId === actor.personId)
    throw fieldError('checker.personId', 'must be somebody else');
  const checker = await personOfPin(db, { ...input.checker, actor, path: 'checker.pin' });
  if (!may(checker.roles, 'steps.sign'))
    throw new DomainError('not-allowed', `${checker.displayName} does not work at the tanks.`);
  return checker;
}

function checkTimes(bath: BathRow, { input, kind }: { kind: string; input: writing.Actuals }): void {
  const { startedAt, finishedAt } = input;
  const [started, finished] = [Date.parse(startedAt), Date.parse(finishedAt)];
  if (finished < started) throw fieldError('finishedAt', 'is before the start');
  if (finished > Date.now() + CLOCKS_MS)
    throw fieldError('finishedAt', 'is in the future by the server’s clock');
  // A tank is being filled before anybody opens the record of the fill.
  const early = kind === 'make-up' ? DAY_MS : CLOCKS_MS;
  if (started < bath.madeUpAt.getTime() - early)
    throw fieldError('startedAt', `is before ${bath.number} was made up`);
  if (bath.dumpedAt !== null && finished > bath.dumpedAt.getTime())
    throw new DomainError('immutable', `${bath.number} was dumped: nothing can be added to it any more.`);
}

const amountsOf = (row: queries.AdditionRow): Map<number, number> => {
  const amounts = new Map<number, number>();
  for (const { chemicalLotId, kg } of row.lines)
    if (chemicalLotId !== null) amounts.set(chemicalLotId, (amounts.get(chemicalLotId) ?? 0) + kg);
  return amounts;
};

async function takeFromStock(
  tx: Tx,
  { actor, additionId, input }: { actor: Actor; additionId: number; input: writing.Actuals },
): Promise<void> {
  const costDigits = minorDigitsOf((await readShop(tx)).currency);
  for (const [at, line] of input.lines.entries()) {
    const lineId = await writing.addLine(tx.execute, { additionId, position: at + 1, line, costDigits });
    if (line.chemicalLotId === null) continue;
    await addMovement(tx.execute, {
      lotId: line.chemicalLotId,
      kind: 'use',
      kg: -line.kg,
      lineId,
      reason: '',
      personId: actor.personId,
    });
  }
}

/** The bath is on hold already where that was said when the addition began. */
async function holdForMixing(
  tx: Tx,
  { actor, row, from }: { actor: Actor; row: queries.AdditionRow; from: Date },
): Promise<void> {
  if ((await readHoldOfAddition(tx.execute, row.id)) !== null) return;
  const { bath } = row;
  const reason = 'it was added and mixes in';
  await addHold(tx.execute, {
    bathId: bath.id,
    additionId: row.id,
    reason,
    fromAt: from,
    placedById: actor.personId,
  });
  await writeAudit(tx.execute, actor, {
    kind: 'bath',
    id: bath.id,
    number: bath.number,
    action: 'put on hold',
    reason: `${row.number}: ${reason}`,
  });
}

/** Whatever changes what is dissolved is confirmed by an analysis. */
async function askToConfirm(
  tx: Tx,
  { actor, row, at }: { actor: Actor; row: queries.AdditionRow; at: Date },
): Promise<void> {
  if (row.kind === 'filter' || row.kind === 'electrode') return;
  const setup = (await readSetupsOf(tx.execute, [row.bath.id])).get(row.bath.id);
  if (setup === undefined || setup.components.length === 0) return;
  const { solute } = setup;
  const components = setup.components.some(({ key }) => key === solute) && solute !== null ? [solute] : [];
  await addRequest(tx.execute, {
    bathId: row.bath.id,
    why: row.kind === 'make-up' ? 'make-up' : 'after-addition',
    components,
    dueAt: at,
    additionId: row.id,
    note: '',
    askedById: actor.personId,
  });
}
