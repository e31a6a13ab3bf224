import type {
  cancelOrder,
  cancelOrderLine,
  createOrder,
  Order,
  receivePieces,
  updateOrder,
  updateOrderLine,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import { readTradingCustomer } from '../quotations/index.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

/** A unit price of four places from an exact total; the total is what is owed. */
export const unitPriceOf = (total: string, quantity: number): string => (Number(total) / quantity).toFixed(4);

export const readWhole = async (db: Tx, id: number): Promise<Order> =>
  found(await queries.readOrder(db.run, id), `order ${id}`);

/**
 * Writes an order with its lines, each checked against its part and recipe.
 *
 * @example
 * const order = await writeOrder(tx, { actor, order: { customerId, currency, lines, ... } });
 */
export async function writeOrder(
  tx: Tx,
  of: {
    actor: Actor;
    order: Omit<Parameters<typeof queries.addOrder>[1], 'number' | 'createdById'>;
    /** `made from Q-00012 revision 2`, for the history. */
    how: string;
  },
): Promise<Order> {
  const { actor, order, how } = of;
  for (const [at, line] of order.lines.entries())
    await checkLine(tx, { at, line, customerId: order.customerId });
  const number = await nextNumber(tx.run, 'order');
  const { id } = await queries.addOrder(tx, { ...order, number, createdById: actor.personId });
  await record(tx.run, actor, { kind: 'order', id, number, action: how });
  return readWhole(tx, id);
}

async function checkLine(
  tx: Tx,
  of: { at: number; line: { partId: number; recipeRevisionId: number }; customerId: number },
) {
  const facts = await queries.readLineFacts(tx.run, of.line);
  const path = (field: string) => `lines.${of.at}.${field}`;
  if (facts?.customerId !== of.customerId) throw invalid(path('partId'), 'is not a part of this customer');
  if (facts.partArchived) throw invalid(path('partId'), 'is archived');
  checkRecipe(facts, path('recipeRevisionId'));
}

function checkRecipe(
  facts: { recipeStatus: string | null; baseMetals: string[] | null; baseMetal: string | null },
  path: string,
): void {
  if (facts.recipeStatus !== 'approved') {
    throw invalid(
      path,
      `must be the approved revision of a recipe; this one is ${facts.recipeStatus ?? 'unknown'}`,
    );
  }
  if (facts.baseMetal !== null && !facts.baseMetals?.includes(facts.baseMetal)) {
    throw invalid(
      path,
      `is a recipe for ${facts.baseMetals?.join(', ') ?? 'other metals'}, not for ${facts.baseMetal}`,
    );
  }
}

/** An order that came without a quotation. */
export function create(db: Db, of: { actor: Actor; input: Body<typeof createOrder> }): Promise<Order> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    const customer = await readTradingCustomer(tx.run, input.customerId);
    if (customer === null || customer.closed) throw invalid('customerId', 'is not a customer in use');
    const lines = input.lines.map((line) => ({
      ...line,
      quotationLineId: null,
      unitPrice: unitPriceOf(line.totalPrice, line.quantity),
    }));
    return writeOrder(tx, {
      actor,
      how: 'entered',
      order: { ...input, currency: customer.currency, quotationRevisionId: null, lines },
    });
  });
}

interface Edit<B> {
  actor: Actor;
  id: number;
  version: number;
  input: B;
}

/** Changes what does not touch the work: the customer's own number, and notes. */
export function change(db: Db, of: Edit<Body<typeof updateOrder>>): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const before = await openOrder(tx, of);
    await queries.changeOrder(tx, of.id, of.input);
    const after = await readWhole(tx, of.id);
    await record(tx.run, of.actor, {
      kind: 'order',
      id: of.id,
      number: before.number,
      action: 'changed',
      changes: changesBetween(before, of.input),
    });
    return after;
  });
}

async function openOrder(tx: Tx, of: { id: number; version: number }): Promise<Order> {
  found(await queries.lockOrder(tx.run, of.id), `order ${of.id}`);
  const order = await readWhole(tx, of.id);
  checkVersion({ stored: order, version: of.version, what: `Order ${order.number}` });
  if (order.status === 'cancelled') throw new Refusal('conflict', `Order ${order.number} is cancelled.`);
  return order;
}

async function openLine(tx: Tx, of: { id: number; version: number }) {
  const line = found(await queries.lockLine(tx.run, of.id), `order line ${of.id}`);
  if (line.version !== of.version) {
    throw new Refusal(
      'changed-meanwhile',
      'This line was changed by somebody else meanwhile; nothing was saved.',
      {
        current: await readWhole(tx, line.orderId),
      },
    );
  }
  if (line.orderStatus === 'cancelled' || line.cancelled)
    throw new Refusal('conflict', 'This line is cancelled.');
  return line;
}

/** What happens to lots and travelers when a line changes; the floor above plugs it in. */
export type LineChanged = (
  tx: Tx,
  of: { actor: Actor; lineId: number; reason: string; recipeRevisionId: number; dueDate: string },
) => Promise<void>;

/** Changes a line of an accepted order; the travelers it touches are superseded through `lineChanged`. */
export function changeLine(
  db: Db,
  of: Edit<Body<typeof updateOrderLine>> & { lineChanged: LineChanged },
): Promise<Order> {
  const { actor, id, input } = of;
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, of);
    if (input.quantity < line.inLots) {
      throw invalid('quantity', `must be at least ${line.inLots}, the pieces already in lots`);
    }
    if (input.recipeRevisionId !== line.recipeRevisionId) {
      const facts = await queries.readLineFacts(tx.run, {
        partId: line.partId,
        recipeRevisionId: input.recipeRevisionId,
      });
      if (facts !== null) checkRecipe(facts, 'recipeRevisionId');
    }
    const { reason, ...fields } = input;
    await queries.changeLine(tx, id, {
      ...fields,
      dueDate: new Date(input.dueDate),
      unitPrice: unitPriceOf(input.totalPrice, input.quantity),
    });
    await record(tx.run, actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `changed line ${line.position}`,
      changes: changesBetween(line, fields),
      reason,
    });
    await of.lineChanged(tx, {
      actor,
      lineId: id,
      reason,
      recipeRevisionId: input.recipeRevisionId,
      dueDate: input.dueDate,
    });
    await queries.settleOrder(tx.run, line.orderId);
    return readWhole(tx, line.orderId);
  });
}

/** Books what was counted at the door; a count that differs from the order needs a reason. */
export function receive(db: Db, of: Edit<Body<typeof receivePieces>>): Promise<Order> {
  const { actor, id, input } = of;
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, of);
    if (input.count !== line.quantity && input.reason.trim() === '') {
      throw invalid('reason', `says why ${input.count} came when ${line.quantity} were ordered`);
    }
    if (input.count < line.inLots)
      throw invalid('count', `must be at least ${line.inLots}, the pieces already in lots`);
    await queries.changeLine(tx, id, {
      receivedCount: input.count,
      receivedAt: new Date(),
      receivedById: actor.personId,
    });
    await record(tx.run, actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `booked the receipt of line ${line.position}`,
      changes: [{ field: 'receivedCount', old: line.receivedCount, new: input.count }],
      reason: input.reason || null,
    });
    return readWhole(tx, line.orderId);
  });
}

/** Cancels a line that has no live lot. */
export function cancelLine(db: Db, of: Edit<Body<typeof cancelOrderLine>>): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, of);
    if (line.inLots > 0) throw lotsUnderWay(line.inLots);
    await queries.changeLine(tx, of.id, { cancelledAt: new Date() });
    await record(tx.run, of.actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `cancelled line ${line.position}`,
      reason: of.input.reason,
    });
    await queries.settleOrder(tx.run, line.orderId);
    return readWhole(tx, line.orderId);
  });
}

/** Cancels an order that has no live lot. */
export function cancel(db: Db, of: Edit<Body<typeof cancelOrder>>): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const order = await openOrder(tx, of);
    const lots = await queries.liveLotCount(tx, of.id);
    if (lots > 0) throw lotsUnderWay(lots);
    await queries.cancelOpenLines(tx, of.id);
    await queries.changeOrder(tx, of.id, { status: 'cancelled' });
    await record(tx.run, of.actor, {
      kind: 'order',
      id: of.id,
      number: order.number,
      action: 'cancelled',
      reason: of.input.reason,
    });
    return readWhole(tx, of.id);
  });
}
const lotsUnderWay = (count: number) =>
  new Refusal(
    'in-use',
    `There are lots under way (${count}); cancel those that have not started, or let them finish.`,
  );
