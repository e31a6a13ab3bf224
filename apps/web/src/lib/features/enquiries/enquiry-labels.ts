import type { EnquiryStatus } from '@huelot/contracts';

/** How the state of an enquiry is told: word and tone. */
export const enquiryStates = {
  open: { label: 'open', tone: 'info' },
  'trial-asked': { label: 'trial asked', tone: 'caution' },
  quoted: { label: 'quoted', tone: 'good' },
  declined: { label: 'declined', tone: 'quiet' },
} as const satisfies Record<EnquiryStatus, { label: string; tone: string }>;
