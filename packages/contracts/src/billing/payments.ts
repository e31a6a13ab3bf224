import { z } from 'zod';
import { Day, Id, Instant, Money } from '../kernel/scalars.ts';

/** Money for an invoice; below 0 where it was paid back. */
export const PaymentRow = z
  .object({
    id: Id,
    amount: Money,
    paidOn: Day,
    reference: z.string(),
    /** It was booked from a line of the bank. */
    fromBank: z.boolean(),
    recordedBy: z.string(),
    recordedAt: Instant,
    withdrawn: z.object({ by: z.string(), at: Instant, reason: z.string() }).nullable(),
  })
  .meta({ id: 'PaymentRow' });
export type PaymentRow = z.output<typeof PaymentRow>;
