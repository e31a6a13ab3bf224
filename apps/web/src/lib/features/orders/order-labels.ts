import type { Order } from '@huelot/contracts';

/** How the state of an order is told: word and tone. */
export const orderStates = {
  open: { label: 'open', tone: 'info' },
  complete: { label: 'complete', tone: 'good' },
  cancelled: { label: 'cancelled', tone: 'quiet' },
} as const satisfies Record<Order['status'], { label: string; tone: string }>;

/** Where a line stands, in a few words. */
export function progressWords({
  quantity,
  progress,
  receivedCount,
  cancelled,
}: Order['lines'][number]): string {
  if (cancelled) return 'cancelled';
  const accepted = progress.accepted - progress.shipped;
  const inWork = progress.inLots - progress.accepted - progress.rejected;
  const parts = [
    receivedCount === null ? 'not received' : `${receivedCount} received`,
    receivedCount !== null && receivedCount < quantity ? `${quantity - receivedCount} to come` : '',
    progress.toRelease > 0 ? `${progress.toRelease} to release` : '',
    inWork > 0 ? `${inWork} in work` : '',
    accepted > 0 ? `${accepted} accepted, to ship` : '',
    progress.rejected > 0 ? `${progress.rejected} rejected` : '',
    progress.shipped > 0 ? `${progress.shipped} shipped` : '',
  ];
  return parts.filter((part) => part !== '').join(', ');
}
