import type * as contract from '@huelot/contracts';
import { unitPrice, unitPriceDigits } from '@huelot/calc';
import {
  exactAmount,
  metalStopText,
  minorDigitsOf,
  rackStops,
  type correctReceivedCount,
  type Order,
  type receivePieces,
  type updateOrder,
  type updateOrderLine,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { readTradingCustomer } from '../quotations/index.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

/** A typed total in the decimals of its currency, and the price of a piece; the total is what is owed. */
function pricesOf({
  line,
  currency,
  path,
}: {
  line: { totalPrice: string; quantity: number };
  currency: string;
  path: string;
}): { totalPrice: string; unitPrice: string } {
  const totalPrice = exactAmount(line.totalPrice, currency);
  const minorDigits = minorDigitsOf(currency);
  if (totalPrice === null) {
    const allowed = minorDigits === 0 ? 'whole amounts only' : `at most ${minorDigits} decimals`;
    throw fieldError(path, `has more decimals than ${currency} counts: ${allowed}`);
  }
  const each = unitPrice({ total: Number(totalPrice), quantity: line.quantity, minorDigits });
  return { totalPrice, unitPrice: each.toFixed(unitPriceDigits(minorDigits)) };
}

export const readWhole = async (db: Tx, id: number): Promise<Order> =>
  orNotFound(await queries.readOrder(db.execute, id), `order ${id}`);

/**
 * Writes an order with its lines, each checked against its part and recipe.
 *
 * @example
 * const order = await writeOrder(tx, { actor, order: { customerId, currency, lines, ... } });
 */
export async function writeOrder(
  tx: Tx,
  {
    actor,
    order,
    how,
  }: {
    actor: Actor;
    order: Omit<Parameters<typeof queries.addOrder>[1], 'number' | 'createdById'>;
    /** `made from Q-00012 revision 2`, for the history. */
    how: string;
  },
): Promise<Order> {
  for (const [at, line] of order.lines.entries())
    await checkLine(tx, { at, line, customerId: order.customerId });
  const number = await nextNumber(tx.execute, 'order');
  const { id } = await queries.addOrder(tx, { ...order, number, createdById: actor.personId });
  await writeAudit(tx.execute, actor, { kind: 'order', id, number, action: how });
  return readWhole(tx, id);
}

async function checkLine(
  tx: Tx,
  {
    line,
    at,
    customerId,
  }: { at: number; line: { partId: number; recipeRevisionId: number }; customerId: number },
) {
  const facts = await queries.readLineFacts(tx.execute, line);
  const path = (field: string) => `lines.${at}.${field}`;
  if (facts?.customerId !== customerId) throw fieldError(path('partId'), 'is not a part of this customer');
  if (facts.partArchived) throw fieldError(path('partId'), 'is archived');
  checkRecipe(facts, path('recipeRevisionId'));
}

function checkRecipe(
  facts: { recipeStatus: string | null; baseMetals: string[] | null; baseMetal: string | null },
  path: string,
): void {
  if (facts.recipeStatus !== 'approved') {
    throw fieldError(
      path,
      `must be the approved revision of a recipe; this one is ${facts.recipeStatus ?? 'unknown'}`,
    );
  }
  if (facts.baseMetal !== null && !facts.baseMetals?.includes(facts.baseMetal)) {
    throw fieldError(
      path,
      `is a recipe for ${facts.baseMetals?.join(', ') ?? 'other metals'}, not for ${facts.baseMetal}`,
    );
  }
}

/** A rack that the route would attack, or that would dissolve in the current, is refused with the reason. */
async function checkRack(
  tx: Tx,
  input: { index: number; line: { partId: number; recipeRevisionId: number; rackId: number | null } },
): Promise<void> {
  const { index, line } = input;
  if (line.rackId === null) return;
  const path = `lines.${index}.rackId`;
  const route = await queries.readRouteMetals(tx.execute, { ...line, rackId: line.rackId });
  if (route === null) throw fieldError(path, 'is not a rack in use');
  const [stop] = rackStops(route);
  if (stop === undefined) return;
  const message = metalStopText({ subject: `Rack ${route.rackCode}`, baseMetal: route.rackMetal, stop });
  throw new DomainError('incompatible', message, { issues: [{ path, message }] });
}

/** An order that came without a quotation. */
export function createOrder(
  db: Db,
  { actor, input }: { actor: Actor; input: Body<typeof contract.createOrder> },
): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const customer = await readTradingCustomer(tx.execute, input.customerId);
    if (customer === null || customer.closed) throw fieldError('customerId', 'is not a customer in use');
    for (const [index, line] of input.lines.entries()) await checkRack(tx, { index, line });
    const { currency } = customer;
    const lines = input.lines.map((line, index) => ({
      ...line,
      ...pricesOf({ line, currency, path: `lines.${index}.totalPrice` }),
      quotationLineId: null,
    }));
    return writeOrder(tx, {
      actor,
      how: 'entered',
      order: { ...input, currency, quotationRevisionId: null, lines },
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
export function changeOrderHead(db: Db, options: Edit<Body<typeof updateOrder>>): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const before = await openOrder(tx, options);
    await queries.changeOrder(tx, options.id, options.input);
    const after = await readWhole(tx, options.id);
    await writeAudit(tx.execute, options.actor, {
      kind: 'order',
      id: options.id,
      number: before.number,
      action: 'changed',
      changes: changesBetween(before, options.input),
    });
    return after;
  });
}

async function openOrder(tx: Tx, { id, version }: { id: number; version: number }): Promise<Order> {
  orNotFound(await queries.lockOrder(tx.execute, id), `order ${id}`);
  const order = await readWhole(tx, id);
  assertVersion({ stored: order, version, what: `Order ${order.number}` });
  if (order.status === 'cancelled') throw new DomainError('conflict', `Order ${order.number} is cancelled.`);
  return order;
}

async function openLine(tx: Tx, { id, version }: { id: number; version: number }) {
  const line = orNotFound(await queries.lockLine(tx.execute, id), `order line ${id}`);
  if (line.version !== version) {
    throw new DomainError(
      'version-conflict',
      'Somebody else changed this line in the meantime; nothing was saved.',
      {
        current: await readWhole(tx, line.orderId),
      },
    );
  }
  if (line.orderStatus === 'cancelled' || line.cancelled)
    throw new DomainError('conflict', 'This line is cancelled.');
  return line;
}

/** What happens to lots and travelers when a line changes; the floor above plugs it in. */
export type LineChanged = (
  tx: Tx,
  options: { actor: Actor; lineId: number; reason: string; recipeRevisionId: number; dueDate: string },
) => Promise<void>;

/** Changes a line of an accepted order; the travelers it touches are superseded through `lineChanged`. */
export function changeOrderLine(
  db: Db,
  options: Edit<Body<typeof updateOrderLine>> & { lineChanged: LineChanged },
): Promise<Order> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, options);
    if (line.finished || line.shipped > 0) {
      throw new DomainError(
        'immutable',
        line.finished
          ? 'This line is finished: its terms stay as they were when the work was done.'
          : `${line.shipped} of its pieces are shipped: the terms of this line stay as they were.`,
      );
    }
    if (input.quantity < line.inLots) {
      throw fieldError('quantity', `must be at least ${line.inLots}, the pieces already in lots`);
    }
    if (input.recipeRevisionId !== line.recipeRevisionId) {
      const facts = await queries.readLineFacts(tx.execute, {
        partId: line.partId,
        recipeRevisionId: input.recipeRevisionId,
      });
      if (facts !== null) checkRecipe(facts, 'recipeRevisionId');
    }
    const { reason, ...typed } = input;
    const prices = pricesOf({ line: input, currency: line.currency, path: 'totalPrice' });
    const fields = { ...typed, totalPrice: prices.totalPrice };
    await queries.changeLine(tx, id, {
      ...fields,
      ...prices,
      dueDate: new Date(input.dueDate),
    });
    await writeAudit(tx.execute, actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `changed line ${line.position}`,
      changes: changesBetween(line, fields),
      reason,
    });
    await options.lineChanged(tx, {
      actor,
      lineId: id,
      reason,
      recipeRevisionId: input.recipeRevisionId,
      dueDate: input.dueDate,
    });
    await queries.refreshOrderStatus(tx.execute, line.orderId);
    return readWhole(tx, line.orderId);
  });
}

/** Books a delivery as it was counted at the door, beside those before it; more or fewer than were expected needs a reason. */
export function recordReceipt(db: Db, options: Edit<Body<typeof receivePieces>>): Promise<Order> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, options);
    const expected = line.quantity - (line.receivedCount ?? 0);
    if (input.count !== expected && input.reason.trim() === '') {
      throw fieldError('reason', `must be filled in: why ${input.count} came when ${expected} were expected`);
    }
    if (line.receivedCount !== null && input.count === 0) throw fieldError('count', 'must be at least 1');
    const receivedCount = (line.receivedCount ?? 0) + input.count;
    await queries.changeLine(tx, id, {
      receivedCount,
      receivedAt: new Date(),
      receivedById: actor.personId,
    });
    await queries.addReceipt(tx, {
      ...{ orderLineId: id, kind: 'delivery', count: input.count, total: receivedCount },
      ...{ reason: input.reason, receivedById: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `recorded the receipt of ${input.count} pieces of line ${line.position}`,
      changes: [{ field: 'receivedCount', old: line.receivedCount, new: receivedCount }],
      reason: input.reason || null,
    });
    return readWhole(tx, line.orderId);
  });
}

/** Puts right what was counted at the door, all receipts of a line together, with the reason. */
export function correctReceipt(db: Db, options: Edit<Body<typeof correctReceivedCount>>): Promise<Order> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, options);
    if (line.receivedCount === null)
      throw new DomainError('conflict', 'Nothing was received for this line yet.');
    if (input.count < line.inLots)
      throw fieldError('count', `must be at least ${line.inLots}, the pieces already in lots`);
    await queries.changeLine(tx, id, { receivedCount: input.count });
    await queries.addReceipt(tx, {
      ...{ orderLineId: id, kind: 'correction', count: input.count - line.receivedCount, total: input.count },
      ...{ reason: input.reason, receivedById: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `corrected the received count of line ${line.position}`,
      changes: [{ field: 'receivedCount', old: line.receivedCount, new: input.count }],
      reason: input.reason,
    });
    return readWhole(tx, line.orderId);
  });
}

/** Cancels a line that has no live lot. */
export function cancelOrderLine(
  db: Db,
  options: Edit<Body<typeof contract.cancelOrderLine>>,
): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const line = await openLine(tx, options);
    if (line.inLots > 0) throw lotsUnderWay(line.inLots);
    await queries.changeLine(tx, options.id, { cancelledAt: new Date() });
    await writeAudit(tx.execute, options.actor, {
      kind: 'order',
      id: line.orderId,
      number: line.orderNumber,
      action: `cancelled line ${line.position}`,
      reason: options.input.reason,
    });
    await queries.refreshOrderStatus(tx.execute, line.orderId);
    return readWhole(tx, line.orderId);
  });
}

/** Cancels an order that has no live lot. */
export function cancelOrder(db: Db, options: Edit<Body<typeof contract.cancelOrder>>): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const order = await openOrder(tx, options);
    const lots = await queries.liveLotCount(tx, options.id);
    if (lots > 0) throw lotsUnderWay(lots);
    await queries.cancelOpenLines(tx, options.id);
    await queries.changeOrder(tx, options.id, { status: 'cancelled' });
    await writeAudit(tx.execute, options.actor, {
      kind: 'order',
      id: options.id,
      number: order.number,
      action: 'cancelled',
      reason: options.input.reason,
    });
    return readWhole(tx, options.id);
  });
}
const lotsUnderWay = (count: number) =>
  new DomainError(
    'in-use',
    `There are lots under way (${count}); cancel those that have not started, or let them finish.`,
  );
