import type { InvoiceState, NoTaxReason } from '@huelot/contracts';

/** How the state of an invoice is told: word and tone. */
export const invoiceStates = {
  draft: { label: 'draft', tone: 'quiet' },
  open: { label: 'open', tone: 'info' },
  overdue: { label: 'overdue', tone: 'danger' },
  paid: { label: 'paid', tone: 'good' },
  credited: { label: 'credited', tone: 'quiet' },
  issued: { label: 'credit note', tone: 'quiet' },
} as const satisfies Record<InvoiceState, { label: string; tone: string }>;

/** Why no tax is added, in the words of an invoice. */
export const noTaxReasons: Readonly<Record<NoTaxReason, string>> = {
  '': 'not said',
  'zero-rated': 'zero-rated',
  exempt: 'exempt from tax',
  'reverse-charge': 'reverse charge: the customer accounts for the tax',
  export: 'export',
  'intra-community': 'intra-community supply',
};
