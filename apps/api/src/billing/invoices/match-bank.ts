import { compareAmounts, type BankMatch } from '@huelot/contracts';
import type { BankLine } from './bank-lines.ts';
import type { OpenInvoice } from './payment-queries.ts';

/** A number in what somebody wrote: with other signs between its parts, in any case, and never a part of a longer number. */
function isNamed(number: string, text: string): boolean {
  const parts = number.match(/\p{L}+|\d+/gu) ?? [];
  return new RegExp(`(?<![\\p{L}\\d])${parts.join('[\\s./_-]*')}(?!\\d)`, 'iu').test(text);
}

/**
 * The invoice that a line of the bank may pay. Its number in the words decides; where two are named, the one whose open amount
 * it is. Without a number, an amount that just one invoice asks for is a hint that somebody looks at.
 */
export function matchBankLine(
  { text, amount }: BankLine,
  open: readonly OpenInvoice[],
): { match: BankMatch; invoice: OpenInvoice } | null {
  const isAmount = (invoice: OpenInvoice) => compareAmounts(invoice.open, amount) === 0;
  const named = open.filter(({ number }) => isNamed(number, text));
  const exact = named.find(isAmount);
  if (exact !== undefined) return { match: 'number-and-amount', invoice: exact };
  const [first, ...others] = named;
  if (first !== undefined) return others.length === 0 ? { match: 'number', invoice: first } : null;
  const [only, ...more] = open.filter(isAmount);
  return only !== undefined && more.length === 0 ? { match: 'amount', invoice: only } : null;
}
