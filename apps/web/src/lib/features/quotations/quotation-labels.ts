import type { QuotationStatus } from '@huelot/contracts';

/** How the state of a quotation is told: word and tone. */
export const quotationStates = {
  draft: { label: 'draft', tone: 'quiet' },
  sent: { label: 'sent', tone: 'info' },
  accepted: { label: 'accepted', tone: 'good' },
  declined: { label: 'declined', tone: 'quiet' },
  lapsed: { label: 'expired', tone: 'caution' },
  superseded: { label: 'superseded', tone: 'quiet' },
} as const satisfies Record<QuotationStatus, { label: string; tone: string }>;
