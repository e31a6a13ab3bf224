import type { adjustStock, ChemicalLot, receiveChemicalLot, updateChemicalLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as lotQueries from './lot-queries.ts';
import { changedWords, pricedFor, priceAfter, unpriced } from './prices.ts';
import * as queries from './queries.ts';

type Received = z.output<typeof receiveChemicalLot.body>;

const nameOf = (lot: { chemicalCode: string; supplierLot: string }) =>
  `${lot.chemicalCode} lot ${lot.supplierLot}`;
const reread = async (tx: Tx, id: number) =>
  lotQueries.toLot(found(await lotQueries.readLot(tx.run, id), `chemical lot ${id}`));

/** Receives a lot: its first movement is the receipt. */
export function receiveLot(
  db: Db,
  of: { actor: Actor; chemicalId: number; input: Received; once: OnceKey | null },
): Promise<ChemicalLot> {
  const { actor, chemicalId, once } = of;
  const { quarantined, quantityKg, ...input } = of.input;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      await queries.lockRow(tx.run, { table: 'chemical', id: chemicalId });
      const chemical = found(await queries.readChemical(tx.run, chemicalId), `chemical ${chemicalId}`);
      if (chemical.archivedAt !== null)
        throw new Refusal(
          'conflict',
          `${chemical.code} is archived: put it back in use before receiving it.`,
        );
      if (Date.parse(input.receivedAt) > Date.now() + 60_000)
        throw invalid('receivedAt', 'lies in the future');
      const lots = await lotQueries.readLots(tx.run, chemicalId);
      if (lots.some(({ supplierLot }) => supplierLot === input.supplierLot))
        throw invalid('supplierLot', `${input.supplierLot} of ${chemical.code} was received already`);
      const { id } = await lotQueries.addLot(tx, {
        ...input,
        pricePerKg: input.pricePerKg ?? null,
        chemicalId,
        receivedKg: quantityKg,
        receivedById: actor.personId,
        status: quarantined ? 'quarantined' : 'open',
      });
      await lotQueries.addMovement(tx.run, {
        lotId: id,
        kind: 'receipt',
        kg: quantityKg,
        lineId: null,
        reason: '',
        personId: actor.personId,
      });
      const lot = await reread(tx, id);
      await record(tx.run, actor, {
        kind: 'chemical-lot',
        id,
        number: nameOf(lot),
        action: `received ${quantityKg} kg`,
      });
      return lot;
    }),
  );
}

/** Changes what is known of a lot. */
export async function changeLot(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: z.output<typeof updateChemicalLot.body> },
): Promise<ChemicalLot> {
  const { actor, id, version } = of;
  const { reason, ...input } = of.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.run, { table: 'chemical_lot', id });
    const before = await reread(tx, id);
    checkVersion({ stored: pricedFor(actor, before), version, what: nameOf(before) });
    const pricePerKg = priceAfter(actor, { before: before.pricePerKg, given: input.pricePerKg });
    await lotQueries.changeLot(tx, { id, ...input, pricePerKg });
    const after = await reread(tx, id);
    await record(tx.run, actor, {
      kind: 'chemical-lot',
      id,
      number: nameOf(after),
      action: changedWords(before, after),
      changes: changesBetween(unpriced(before), unpriced(after)),
      reason,
    });
    return after;
  });
}

/** Books what a count found, or what was thrown away. */
export function bookStock(
  db: Db,
  of: { actor: Actor; id: number; input: z.output<typeof adjustStock.body>; once: OnceKey | null },
): Promise<ChemicalLot> {
  const { actor, id, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      await queries.lockRow(tx.run, { table: 'chemical_lot', id });
      const before = await reread(tx, id);
      if (input.kind === 'disposal' && input.kg > 0)
        throw invalid('kg', 'must be negative: what is thrown away leaves the stock');
      if (before.balanceKg + input.kg < 0)
        throw invalid('kg', `takes more than the ${before.balanceKg.toFixed(3)} kg that are left`);
      await lotQueries.addMovement(tx.run, { ...input, lotId: id, lineId: null, personId: actor.personId });
      await record(tx.run, actor, {
        kind: 'chemical-lot',
        id,
        number: nameOf(before),
        action: input.kind === 'disposal' ? `threw away ${-input.kg} kg` : `adjusted by ${input.kg} kg`,
        reason: input.reason,
      });
      return reread(tx, id);
    }),
  );
}
