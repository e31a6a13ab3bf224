import { percentOfAmount, sumOfAmounts, type InvoiceFacts } from '@huelot/contracts';
import { readShop } from '../../catalog/settings/index.ts';
import type { Tx } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { unitPriceText } from './price-lines.ts';
import * as queries from './queries.ts';

/** What an invoice says if it is issued `at` that moment: the record as it stands, and the sums. */
export async function factsOf(tx: Tx, row: queries.InvoiceRow, at = new Date()): Promise<InvoiceFacts> {
  const { currency, credits } = row;
  const [shop, billed, read] = await Promise.all([
    readShop(tx),
    queries.readBilled(tx.execute, row.customerId),
    queries.readLines(tx.execute, row.id),
  ]);
  const customer = orNotFound(billed, `customer ${row.customerId}`);
  const { taxRatePercent, noTaxReason } = customer;
  const days = await queries.readDays(tx.execute, { at, paymentDays: row.paymentDays });
  const lines = read.map((line) => ({
    ...line,
    unitPrice: unitPriceText({ total: line.basisTotal, quantity: line.basisQuantity }, currency),
  }));
  const net = sumOfAmounts(
    lines.map((line) => line.net),
    currency,
  );
  const tax = percentOfAmount(net, taxRatePercent, currency);
  const { name, address, contact, timeZone, units, country, taxNumber, iban, bic } = shop;
  return {
    shop: { name, address, contact, timeZone, units, country, taxNumber, iban, bic },
    ...{ customer: saidOf(customer), currency, ...days, paymentDays: row.paymentDays },
    credits:
      credits === null ? null : { number: credits.number, issuedOn: credits.issuedOn, reason: row.reason },
    ...{ lines, net, taxRatePercent, noTaxReason, tax },
    gross: sumOfAmounts([net, tax], currency),
    notes: row.notes,
  };
}

const saidOf = ({ number, name, address, country, taxNumber }: InvoiceFacts['customer']) => ({
  ...{ number, name, address, country, taxNumber },
});
