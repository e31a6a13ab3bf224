import type { DeliveryNoteState } from '@huelot/contracts';

/** How the state of a delivery note is told: word and tone. */
export const deliveryStates = {
  stands: { label: 'stands', tone: 'good' },
  withdrawn: { label: 'withdrawn', tone: 'danger' },
} as const satisfies Record<DeliveryNoteState, { label: string; tone: string }>;
