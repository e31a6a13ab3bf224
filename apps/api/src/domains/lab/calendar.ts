import { createHash, randomBytes } from 'node:crypto';
import ical from 'ical-generator';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { found } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import * as queries from './reminder-queries.ts';
import { readCalendarDates } from './reminders.ts';

const hashOf = (secret: string) => createHash('sha256').update(secret).digest();
const minutes = 30;

/** Makes a secret address for a calendar program. Only its hash is kept: it is shown this once. */
export async function createFeed(
  db: Db,
  of: { actor: Actor; publicUrl: string },
): Promise<{ id: number; url: string }> {
  const { actor, publicUrl } = of;
  const secret = randomBytes(32).toString('base64url');
  return inTransaction(db, async (tx) => {
    const { id } = await queries.addFeed(tx, {
      personId: actor.personId,
      secretHash: new Uint8Array(hashOf(secret)),
    });
    await record(tx.run, actor, {
      kind: 'person',
      id: actor.personId,
      number: actor.name,
      action: 'made a secret calendar address',
    });
    return { id, url: `${publicUrl}/api/calendar/${secret}.ics` };
  });
}

/** Makes a secret address of one’s own void. */
export async function revokeFeed(db: Db, of: { actor: Actor; id: number }): Promise<Record<string, never>> {
  const { actor, id } = of;
  return inTransaction(db, async (tx) => {
    found(
      (await queries.revokeFeed(tx.run, { id, personId: actor.personId }))[0],
      `calendar address ${id} of yours`,
    );
    await record(tx.run, actor, {
      kind: 'person',
      id: actor.personId,
      number: actor.name,
      action: 'made a secret calendar address void',
    });
    return {};
  });
}

/** The calendar behind a secret address: an event for every analysis that falls due by the calendar. */
export async function readCalendar(run: Run, of: { secret: string; publicUrl: string }): Promise<string> {
  const secret = of.secret.replace(/\.ics$/, '');
  found(await queries.openFeed(run, hashOf(secret)), 'calendar at this address');
  const calendar = ical({
    name: `Wet lab, ${(await queries.readShopName(run)) || 'Huelot'}`,
    prodId: { company: 'Huelot', product: 'Wet lab', language: 'EN' },
    ttl: 3600,
  });
  const host = new URL(of.publicUrl).hostname;
  for (const {
    bathId,
    bathNumber,
    tankCode,
    tankName,
    kind,
    title,
    detail,
    dueAt,
    overdue,
  } of await readCalendarDates(run)) {
    if (dueAt === null) continue;
    const start = new Date(dueAt);
    calendar.createEvent({
      // The same analysis at another time stays the same event.
      id: createHash('sha256').update(`${bathId} ${kind} ${title}`).digest('hex').slice(0, 32) + `@${host}`,
      start,
      end: new Date(start.getTime() + minutes * 60_000),
      summary: `${tankCode}: ${title}${overdue ? ' (overdue)' : ''}`,
      description: [`${tankName}, ${bathNumber}`, detail].filter(Boolean).join('\n'),
      url: `${of.publicUrl}/lab/baths/${bathId}`,
    });
  }
  return calendar.toString();
}
