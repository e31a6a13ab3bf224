import type { RevisionStatus } from '@huelot/contracts';

/** How a revision that is approved and superseded is marked. */
export const revisionStates: Record<
  RevisionStatus,
  { label: string; tone: 'info' | 'good' | 'quiet' | 'caution' }
> = {
  draft: { label: 'draft', tone: 'info' },
  approved: { label: 'approved', tone: 'good' },
  superseded: { label: 'superseded', tone: 'quiet' },
  retired: { label: 'retired', tone: 'caution' },
};
