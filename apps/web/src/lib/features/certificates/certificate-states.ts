import type { CertificateState } from '@huelot/contracts';

/** How the state of a certificate is told: word and tone. */
export const certificateStates = {
  stands: { label: 'stands', tone: 'good' },
  replaced: { label: 'replaced', tone: 'quiet' },
  withdrawn: { label: 'withdrawn', tone: 'danger' },
} as const satisfies Record<CertificateState, { label: string; tone: string }>;
