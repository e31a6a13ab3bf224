import { z } from 'zod';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { content, Id, Instant, PathId } from '../kernel/scalars.ts';

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
export const listBathReminders = defineQuery({
  name: 'listBathReminders',
  tags: ['lab'],
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
export const getMyReminders = defineQuery({
  name: 'getMyReminders',
  tags: ['lab'],
  path: '/me/reminders',
  access: 'lab.read',
  summary: 'How I am reminded of analyses that are due',
  reply: MyReminders,
});
export const setMyReminders = defineCommand({
  name: 'setMyReminders',
  tags: ['lab'],
  method: 'PUT',
  path: '/me/reminders',
  access: 'lab.read',
  summary: 'Whether I get a digest by e-mail',
  body: z.strictObject({ email: z.boolean() }),
  reply: MyReminders,
});
export const sendMyDigest = defineCommand({
  name: 'sendMyDigest',
  tags: ['lab'],
  path: '/me/reminders/digest',
  access: 'lab.read',
  summary: 'Send me the digest now, to try it',
  body: EmptyBody,
  reply: EmptyReply,
});
export const createCalendarFeed = defineCommand({
  name: 'createCalendarFeed',
  tags: ['lab'],
  path: '/me/calendar-feeds',
  access: 'lab.read',
  summary: 'A secret address for my calendar program; it is shown once',
  body: EmptyBody,
  reply: z.object({ id: Id, url: z.string() }),
  status: 201,
  keyless: 'gives a secret',
});
export const revokeCalendarFeed = defineCommand({
  name: 'revokeCalendarFeed',
  tags: ['lab'],
  method: 'DELETE',
  path: '/me/calendar-feeds/:id',
  access: 'lab.read',
  summary: 'Revoke one of my secret calendar addresses',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
});
export const getCalendar = defineQuery({
  name: 'getCalendar',
  tags: ['lab'],
  path: '/calendar/:secret',
  access: 'anyone',
  summary: 'The calendar of whoever holds the secret address, as iCalendar',
  params: { secret: z.string().min(1).max(100) },
  reply: content('text/calendar', 'iCalendar, RFC 5545'),
});
