import type { adjustStock, ChemicalLot, receiveChemicalLot, updateChemicalLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as lotQueries from './lot-queries.ts';
import { changedWords, pricedFor, priceAfter, unpriced } from './prices.ts';
import * as queries from './queries.ts';

type Received = z.output<typeof receiveChemicalLot.body>;

const nameOf = (lot: { chemicalCode: string; supplierLot: string }) =>
  `${lot.chemicalCode} lot ${lot.supplierLot}`;
const reread = async (tx: Tx, id: number) =>
  lotQueries.toLot(orNotFound(await lotQueries.readLot(tx.execute, id), `chemical lot ${id}`));

/** Receives a lot: its first movement is the receipt. */
export function receiveLot(
  db: Db,
  options: { actor: Actor; chemicalId: number; input: Received },
): Promise<ChemicalLot> {
  const { actor, chemicalId } = options;
  const { quarantined, quantityKg, ...input } = options.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.execute, { table: 'chemical', id: chemicalId });
    const chemical = orNotFound(await queries.readChemical(tx.execute, chemicalId), `chemical ${chemicalId}`);
    if (chemical.archivedAt !== null)
      throw new DomainError(
        'conflict',
        `${chemical.code} is archived: put it back in use before receiving it.`,
      );
    if (Date.parse(input.receivedAt) > Date.now() + 60_000)
      throw fieldError('receivedAt', 'is in the future');
    const lots = await lotQueries.readLots(tx.execute, chemicalId);
    if (lots.some(({ supplierLot }) => supplierLot === input.supplierLot))
      throw fieldError('supplierLot', `${input.supplierLot} of ${chemical.code} was received already`);
    const { id } = await lotQueries.addLot(tx, {
      ...input,
      pricePerKg: input.pricePerKg ?? null,
      chemicalId,
      receivedKg: quantityKg,
      receivedById: actor.personId,
      status: quarantined ? 'quarantined' : 'open',
    });
    await lotQueries.addMovement(tx.execute, {
      lotId: id,
      kind: 'receipt',
      kg: quantityKg,
      lineId: null,
      reason: '',
      personId: actor.personId,
    });
    const lot = await reread(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'chemical-lot',
      id,
      number: nameOf(lot),
      action: `received ${quantityKg} kg`,
    });
    return lot;
  });
}

/** Changes what is known of a lot. */
export async function changeLot(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: z.output<typeof updateChemicalLot.body> },
): Promise<ChemicalLot> {
  const { actor, id, version } = options;
  const { reason, ...input } = options.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.execute, { table: 'chemical_lot', id });
    const before = await reread(tx, id);
    assertVersion({ stored: pricedFor(actor, before), version, what: nameOf(before) });
    const pricePerKg = priceAfter(actor, { before: before.pricePerKg, given: input.pricePerKg });
    await lotQueries.changeLot(tx, { id, ...input, pricePerKg });
    const after = await reread(tx, id);
    await writeAudit(tx.execute, actor, {
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
  { actor, id, input }: { actor: Actor; id: number; input: z.output<typeof adjustStock.body> },
): Promise<ChemicalLot> {
  return inTransaction(db, async (tx) => {
    await queries.lockRow(tx.execute, { table: 'chemical_lot', id });
    const before = await reread(tx, id);
    if (input.kind === 'disposal' && input.kg > 0)
      throw fieldError('kg', 'must be negative: what is disposed of leaves the stock');
    if (before.balanceKg + input.kg < 0)
      throw fieldError('kg', `takes more than the ${before.balanceKg.toFixed(3)} kg that are left`);
    await lotQueries.addMovement(tx.execute, { ...input, lotId: id, lineId: null, personId: actor.personId });
    await writeAudit(tx.execute, actor, {
      kind: 'chemical-lot',
      id,
      number: nameOf(before),
      action: input.kind === 'disposal' ? `disposed of ${-input.kg} kg` : `adjusted by ${input.kg} kg`,
      reason: input.reason,
    });
    return reread(tx, id);
  });
}
