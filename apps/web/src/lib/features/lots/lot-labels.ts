import type { Lot } from '@huelot/contracts';

/** How the state of a lot is told: word and tone. */
export const lotStates = {
  released: { label: 'released', tone: 'quiet' },
  running: { label: 'running', tone: 'info' },
  finished: { label: 'to check', tone: 'caution' },
  passed: { label: 'passed', tone: 'good' },
  shipped: { label: 'shipped', tone: 'good' },
  cancelled: { label: 'cancelled', tone: 'quiet' },
} as const satisfies Record<Lot['status'], { label: string; tone: string }>;

/** How the state of a traveler is told. */
export const travelerStates = {
  issued: { label: 'in force', tone: 'info' },
  complete: { label: 'complete', tone: 'good' },
  superseded: { label: 'superseded', tone: 'quiet' },
  cancelled: { label: 'cancelled', tone: 'quiet' },
} as const satisfies Record<Lot['travelers'][number]['status'], { label: string; tone: string }>;
