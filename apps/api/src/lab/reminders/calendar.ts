import { createHash, randomBytes } from 'node:crypto';
import ical, { ICalAlarmType } from 'ical-generator';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';
import { readCalendarDates } from './reminders.ts';

const hashOf = (secret: string) => createHash('sha256').update(secret).digest();
const minutes = 30;
/** A calendar program rings this long before. */
const alarmMinutes = 60;

/** Makes a secret address for a calendar program. Only its hash is kept: it is shown this once. */
export async function createFeed(
  db: Db,
  { actor, publicUrl }: { actor: Actor; publicUrl: string },
): Promise<{ id: number; url: string }> {
  const secret = randomBytes(32).toString('base64url');
  return inTransaction(db, async (tx) => {
    const { id } = await queries.addFeed(tx, {
      personId: actor.personId,
      secretHash: new Uint8Array(hashOf(secret)),
    });
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: actor.personId,
      number: actor.name,
      action: 'made a secret calendar address',
    });
    return { id, url: `${publicUrl}/api/calendar/${secret}.ics` };
  });
}

/** Makes a secret address of one’s own void. */
export async function revokeFeed(
  db: Db,
  { actor, id }: { actor: Actor; id: number },
): Promise<Record<string, never>> {
  return inTransaction(db, async (tx) => {
    orNotFound(
      (await queries.revokeFeed(tx.execute, { id, personId: actor.personId }))[0],
      `calendar address ${id} of yours`,
    );
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: actor.personId,
      number: actor.name,
      action: 'revoked a secret calendar address',
    });
    return {};
  });
}

/** The calendar behind a secret address: an event for every analysis that falls due by the calendar. */
export async function readCalendar(
  execute: SqlExecutor,
  options: { secret: string; publicUrl: string },
): Promise<string> {
  const secret = options.secret.replace(/\.ics$/, '');
  orNotFound(await queries.openFeed(execute, hashOf(secret)), 'calendar at this address');
  const calendar = ical({
    name: `Wet lab, ${(await queries.readShopName(execute)) || 'Huelot'}`,
    prodId: { company: 'Huelot', product: 'Wet lab', language: 'EN' },
    ttl: 3600,
  });
  const host = new URL(options.publicUrl).hostname;
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
  } of await readCalendarDates(execute)) {
    if (dueAt === null) continue;
    // What is overdue stands in the hour that comes, not in a week that nobody looks at any more.
    const start = overdue ? nextHour() : new Date(dueAt);
    const event = calendar.createEvent({
      // The same analysis at another time stays the same event.
      id: createHash('sha256').update(`${bathId} ${kind} ${title}`).digest('hex').slice(0, 32) + `@${host}`,
      start,
      end: new Date(start.getTime() + minutes * 60_000),
      summary: `${tankCode}: ${title}${overdue ? ' (overdue)' : ''}`,
      description: [`${tankName}, ${bathNumber}`, detail].filter(Boolean).join('\n'),
      url: `${options.publicUrl}/lab/baths/${bathId}`,
    });
    event.createAlarm({ type: ICalAlarmType.display, trigger: alarmMinutes * 60, description: title });
  }
  return calendar.toString();
}

const HOUR_MS = 3_600_000;
const nextHour = (): Date => new Date(Math.ceil(Date.now() / HOUR_MS) * HOUR_MS);
