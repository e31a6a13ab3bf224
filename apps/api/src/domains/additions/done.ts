import { type Addition, may } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import {
  addHold,
  addRequest,
  type BathRow,
  lockBath,
  openBath,
  readHoldOfAddition,
  readBath,
  readSetupsOf,
  touchBath,
} from '../baths/index.ts';
import { addMovement } from '../chemicals/index.ts';
import { personOfPin } from '../people/index.ts';
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
export async function doAddition(
  db: Db,
  of: { actor: Actor; id: number; input: writing.Actuals; once: OnceKey | null },
): Promise<Addition> {
  const { actor, id, input, once } = of;
  const checker = await checkerOf(db, { actor, input });
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const bathId = found(await queries.readAddition(tx.run, id), `addition ${id}`).bath.id;
      const bath = await openBath(tx.run, bathId);
      const row = found(await queries.readAddition(tx.run, id), `addition ${id}`);
      if (row.state !== 'planned') throw new Refusal('frozen', `${row.number} is ${row.state} already.`);
      if (bath.version !== row.bathVersion) throw await outdated(tx.run, bath.id);
      checkTimes(bath, { kind: row.kind, input });
      const actions = input.lines.map(({ action }) => action);
      if (checker === null && needsSecondPerson(row.contents, actions))
        throw invalid(
          'checker',
          'must be filled in: hot caustic is added by two, and the second confirms with a PIN',
        );
      await checkLines(tx, { bath, steps: row.steps, input, giveBack: new Map() });
      await writing.setDone(tx.run, {
        ...input,
        id,
        doneById: actor.personId,
        checkedById: checker?.personId ?? null,
      });
      await takeFromStock(tx, { actor, additionId: id, input });
      if (input.hold === true || needsMixing(row.contents, actions))
        await holdForMixing(tx, { actor, row, from: new Date(input.startedAt) });
      await askToConfirm(tx, { actor, row, at: new Date(input.finishedAt) });
      await touchBath(tx.run, bath.id);
      await record(tx.run, actor, {
        kind: 'addition',
        id,
        number: row.number,
        action: `done in ${bath.number}`,
        ...(checker === null
          ? {}
          : { changes: [{ field: 'checkedBy', old: null, new: checker.displayName }] }),
        reason: input.reason || null,
      });
      return viewAddition(tx.run, id);
    }),
  );
}

/** Books what was really added in place of what was booked: the stock gets back what the wrong record took. */
export async function correctAddition(
  db: Db,
  of: { actor: Actor; id: number; input: writing.Actuals; once: OnceKey | null },
): Promise<Addition> {
  const { actor, id, input, once } = of;
  const checker = await checkerOf(db, { actor, input });
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const bathId = found(await queries.readAddition(tx.run, id), `addition ${id}`).bath.id;
      await lockBath(tx.run, bathId);
      const bath = found(await readBath(tx.run, bathId), `bath ${bathId}`);
      const row = found(await queries.readAddition(tx.run, id), `addition ${id}`);
      if (row.correctedBy !== null)
        throw new Refusal(
          'conflict',
          `${row.number} was corrected already by ${row.correctedBy.number}: correct that one.`,
        );
      if (row.state !== 'done')
        throw new Refusal('conflict', `${row.number} is ${row.state}: only what was done is corrected.`);
      checkTimes(bath, { kind: row.kind, input });
      await checkLines(tx, { bath, steps: row.steps, input, giveBack: amountsOf(row) });
      const number = await nextNumber(tx.run, 'addition');
      const checkedById = checker?.personId ?? (row.checkedById === actor.personId ? null : row.checkedById);
      const corrected = await writing.addCorrection(tx.run, {
        ...input,
        number,
        correctsId: id,
        bathVersion: row.bathVersion,
        doneById: actor.personId,
        checkedById,
      });
      for (const line of row.lines) {
        if (line.chemicalLotId === null) continue;
        await addMovement(tx.run, {
          lotId: line.chemicalLotId,
          kind: 'correction',
          kg: line.kg,
          lineId: line.id,
          reason: `${row.number} corrected by ${number}: ${input.reason}`,
          personId: actor.personId,
        });
      }
      await takeFromStock(tx, { actor, additionId: corrected, input });
      const open = await writing.takeOverRequest(tx.run, {
        additionId: id,
        personId: actor.personId,
        number,
      });
      if (open !== null)
        await addRequest(tx.run, {
          bathId,
          why: row.kind === 'make-up' ? 'make-up' : 'after-addition',
          ...open,
          additionId: corrected,
          note: '',
          askedById: actor.personId,
        });
      await touchBath(tx.run, bathId);
      await record(tx.run, actor, {
        kind: 'addition',
        id: corrected,
        number,
        action: `recorded in place of ${row.number}`,
        reason: input.reason,
      });
      return viewAddition(tx.run, corrected);
    }),
  );
}

/** Somebody else of this shop who proves it, and who works with baths. */
async function checkerOf(db: Db, { actor, input }: { actor: Actor; input: writing.Actuals }) {
  if (input.checker === null) return null;
  if (input.checker.personId === actor.personId) throw invalid('checker.personId', 'must be somebody else');
  const checker = await personOfPin(db, { ...input.checker, address: actor.address });
  if (!may(checker.roles, 'steps.sign'))
    throw new Refusal('not-allowed', `${checker.displayName} does not work at the tanks.`);
  return checker;
}

function checkTimes(bath: BathRow, of: { kind: string; input: writing.Actuals }): void {
  const { startedAt, finishedAt } = of.input;
  const [started, finished] = [Date.parse(startedAt), Date.parse(finishedAt)];
  if (finished < started) throw invalid('finishedAt', 'lies before the start');
  if (finished > Date.now() + CLOCKS_MS)
    throw invalid('finishedAt', 'lies in the future by the server’s clock');
  // A tank is being filled before anybody opens the record of the fill.
  const early = of.kind === 'make-up' ? DAY_MS : CLOCKS_MS;
  if (started < bath.madeUpAt.getTime() - early)
    throw invalid('startedAt', `lies before ${bath.number} was made up`);
  if (bath.dumpedAt !== null && finished > bath.dumpedAt.getTime())
    throw new Refusal('frozen', `${bath.number} was dumped: nothing can be added to it any more.`);
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
  for (const [at, line] of input.lines.entries()) {
    const lineId = await writing.addLine(tx.run, { additionId, position: at + 1, line });
    if (line.chemicalLotId === null) continue;
    await addMovement(tx.run, {
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
  if ((await readHoldOfAddition(tx.run, row.id)) !== null) return;
  const { bath } = row;
  const reason = 'it was added and mixes in';
  await addHold(tx.run, {
    bathId: bath.id,
    additionId: row.id,
    reason,
    fromAt: from,
    placedById: actor.personId,
  });
  await record(tx.run, actor, {
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
  const setup = (await readSetupsOf(tx.run, [row.bath.id])).get(row.bath.id);
  if (setup === undefined || setup.components.length === 0) return;
  const { solute } = setup;
  const components = setup.components.some(({ key }) => key === solute) && solute !== null ? [solute] : [];
  await addRequest(tx.run, {
    bathId: row.bath.id,
    why: row.kind === 'make-up' ? 'make-up' : 'after-addition',
    components,
    dueAt: at,
    additionId: row.id,
    note: '',
    askedById: actor.personId,
  });
}
