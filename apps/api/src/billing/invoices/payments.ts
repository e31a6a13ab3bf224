import {
  compareAmounts,
  exactAmount,
  lessAmount,
  minorDigitsOf,
  type Invoice,
  type recordPayment,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as payments from './payment-queries.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

type Input = z.output<typeof recordPayment.body>;

/** Marks money as paid for an invoice, or paid back; more than is open only where the person says so. */
export function pay(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: Input },
): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    await book(tx, { actor, id, path: '', input: { ...input, bankKey: null } });
    return view(tx, id);
  });
}

/** Books a payment in the caller's transaction; faults are named below `path`. */
export async function book(
  tx: Tx,
  {
    actor,
    id,
    path,
    input,
  }: { actor: Actor; id: number; path: string; input: Input & { bankKey: string | null } },
): Promise<void> {
  await queries.lockInvoice(tx.execute, id);
  const invoice = orNotFound(await queries.readInvoice(tx.execute, id), `invoice ${id}`);
  const { number, currency, open } = invoice;
  if (number === null) throw new DomainError('conflict', 'A draft asks for no money yet: issue it first.');
  if (invoice.kind === 'credit-note')
    throw new DomainError(
      'conflict',
      `${number} is a credit note: book what is paid back on the invoice it corrects.`,
    );
  const amount = amountOf(input.amount, { currency, path: `${path}amount` });
  const isBack = amount.startsWith('-');
  const afterwards = lessAmount(open, amount, currency);
  const isTooMuch = compareAmounts(afterwards, '0') * (isBack ? -1 : 1) < 0;
  if (isTooMuch && !input.moreThanOpen)
    throw fieldError(
      `${path}amount`,
      isBack
        ? `pays back more than is owed to the customer: open is ${open} ${currency}`
        : `is more than the ${open} ${currency} that are open: check it, or say that it is no slip`,
    );
  const { issuedOn: today } = await queries.readDays(tx.execute, { at: new Date(), paymentDays: 0 });
  if (input.paidOn > today) throw fieldError(`${path}paidOn`, 'must be today at the latest');
  await payments.addPayment(tx, {
    ...{ invoiceId: id, amount, paidOn: new Date(input.paidOn), reference: input.reference },
    ...{ bankKey: input.bankKey, recordedById: actor.personId },
  });
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'invoice', id, number },
    action: `${isBack ? 'booked as paid back' : 'booked as paid'} ${amount} ${currency} of ${input.paidOn}`,
  });
}

function amountOf(text: string, { currency, path }: { currency: string; path: string }): string {
  const isBack = text.startsWith('-');
  const amount = exactAmount(isBack ? text.slice(1) : text, currency);
  if (amount === null)
    throw fieldError(path, `has more decimals than ${currency} counts, which are ${minorDigitsOf(currency)}`);
  if (compareAmounts(amount, '0') === 0) throw fieldError(path, 'must not be 0');
  return isBack ? `-${amount}` : amount;
}

/** Takes back a payment that was booked by mistake. The bank's line may be booked again. */
export function unpay(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    await payments.lockPayment(tx.execute, id);
    const payment = orNotFound(await payments.readPayment(tx, id), `payment ${id}`);
    if (payment.withdrawnAt !== null)
      throw new DomainError('conflict', 'This payment was taken back already.');
    await payments.withdrawPayment(tx, id, { personId: actor.personId, reason });
    const { invoiceId, invoice } = payment;
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'invoice', id: invoiceId, number: invoice.number, reason },
      action: `took back the payment of ${payment.amount.toFixed(minorDigitsOf(invoice.currency))} ${invoice.currency}`,
    });
    return view(tx, invoiceId);
  });
}
