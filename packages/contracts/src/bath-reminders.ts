import { z } from 'zod';
import { NoBody, Nothing, reading, writing } from './http.ts';
import { Id, Instant, PathId } from './scalars.ts';

/** Something the lab has to do, with when. */
export const BathReminder = z
  .object({
    bathId: Id,
    bathNumber: z.string(),
    tankCode: z.string(),
    tankName: z.string(),
    kind: z.enum(['plan', 'request', 'addition']),
    title: z.string(),
    detail: z.string(),
    /** Null where it depends on loads, area or current that nobody can foresee. */
    dueAt: Instant.nullable(),
    overdue: z.boolean(),
  })
  .meta({ id: 'BathReminder' });
export type BathReminder = z.output<typeof BathReminder>;
export const listBathReminders = reading({
  path: '/bath-reminders',
  access: 'lab.read',
  summary: 'Analyses that are due or overdue and additions that wait, the most urgent first',
  reply: z.object({ items: z.array(BathReminder) }),
});

/** How I am reminded. */
export const MyReminders = z
  .object({
    /** A digest by e-mail every morning on which something is due. */
    email: z.boolean(),
    /** Where it would go; null while there is no address in my account. */
    address: z.string().nullable(),
    /** Whether this installation can send e-mail. */
    canSend: z.boolean(),
    feeds: z.array(z.object({ id: Id, createdAt: Instant, lastReadAt: Instant.nullable() })),
  })
  .meta({ id: 'MyReminders' });
export type MyReminders = z.output<typeof MyReminders>;
export const getMyReminders = reading({
  path: '/me/reminders',
  access: 'lab.read',
  summary: 'How I am reminded of analyses that are due',
  reply: MyReminders,
});
export const setMyReminders = writing({
  method: 'PUT',
  path: '/me/reminders',
  access: 'lab.read',
  summary: 'Whether I get a digest by e-mail',
  body: z.strictObject({ email: z.boolean() }),
  reply: MyReminders,
});
export const sendMyDigest = writing({
  path: '/me/reminders/digest',
  access: 'lab.read',
  summary: 'Send me the digest now, to try it',
  body: NoBody,
  reply: Nothing,
});
export const createCalendarFeed = writing({
  path: '/me/calendar-feeds',
  access: 'lab.read',
  summary: 'A secret address for my calendar program; it is shown once',
  body: NoBody,
  reply: z.object({ id: Id, url: z.string() }),
  status: 201,
});
export const revokeCalendarFeed = writing({
  method: 'DELETE',
  path: '/me/calendar-feeds/:id',
  access: 'lab.read',
  summary: 'Make one of my secret addresses void',
  params: { id: PathId },
  body: NoBody,
  reply: Nothing,
});
export const getCalendar = reading({
  path: '/calendar/:secret',
  access: 'anyone',
  summary: 'The calendar of whoever holds the secret address, as iCalendar',
  params: { secret: z.string().min(1).max(100) },
  reply: z.string().meta({ description: 'iCalendar, RFC 5545' }),
});
