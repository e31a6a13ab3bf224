import type { AssessmentState } from '@huelot/contracts';

/** How the state of an impact assessment is told: word and tone. */
export const assessmentStates = {
  open: { label: 'open', tone: 'caution' },
  closed: { label: 'closed', tone: 'good' },
} as const satisfies Record<AssessmentState, { label: string; tone: string }>;
