import type { BathReminder } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import type { Mailer } from '../../kernel/mailer.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';
import { readReminders } from './reminders.ts';

interface Due {
  reminders: BathReminder[];
  shelf: Awaited<ReturnType<typeof queries.readShelf>>;
}
const readDue = async (execute: SqlExecutor): Promise<Due> => ({
  reminders: await readReminders(execute),
  shelf: await queries.readShelf(execute),
});

/** The digest in plain words; every line says where and what. */
function digestOf({ reminders, shelf }: Due, publicUrl: string): { subject: string; text: string } {
  const overdue = reminders.filter((one) => one.overdue);
  const line = ({ tankCode, bathNumber, bathId, title, detail }: BathReminder) =>
    `- ${tankCode}, ${bathNumber}: ${title}${detail === '' ? '' : ` (${detail})`}\n  ${publicUrl}/lab/baths/${bathId}`;
  const part = (head: string, items: readonly BathReminder[]) =>
    items.length === 0 ? [] : [head, ...items.map(line), ''];
  const listed = (head: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [head, ...lines.map((one) => `- ${one}`), ''];
  const text = [
    ...part('Overdue', overdue),
    ...part(
      'Coming',
      reminders.filter((one) => !one.overdue),
    ),
    ...listed('Baths on hold', shelf.held),
    ...listed('To be bought', shelf.low),
    ...listed('Past their date', shelf.expired),
    ...listed('Calibration overdue', shelf.calibrations),
    reminders.length === 0 ? 'No analysis is due in the wet lab.\n' : '',
    `The whole list: ${publicUrl}/lab`,
    `You get this because you asked for it; switch it off under My account: ${publicUrl}/account`,
  ].join('\n');
  const count = overdue.length === 1 ? '1 analysis is overdue' : `${overdue.length} analyses are overdue`;
  return { subject: overdue.length === 0 ? 'Wet lab: what is coming' : `Wet lab: ${count}`, text };
}

/** Sends the digest to one person now. */
export async function sendMyDigest(
  db: Db,
  { actor, mailer, publicUrl }: { actor: Actor; mailer: Mailer | null; publicUrl: string },
): Promise<Record<string, never>> {
  if (mailer === null)
    throw new DomainError(
      'conflict',
      'This installation has no mail server: whoever runs it can set HUELOT_SMTP_URL.',
    );
  const { address } = await queries.readMine(db.execute, actor.personId);
  if (address === null || address === '')
    throw new DomainError('conflict', 'Your account has no e-mail address: the owner can add one.');
  // Before the entry: a mail server that does not answer must not hold a connection to the database.
  await mailer.send({ to: address, ...digestOf(await readDue(db.execute), publicUrl) });
  await inTransaction(db, (tx) =>
    writeAudit(tx.execute, actor, { ...about(actor), action: 'had the digest of the wet lab sent to' }),
  );
  return {};
}

/** Chooses whether the digest comes by e-mail every morning. */
export const setMyReminders = (db: Db, { actor, email }: { actor: Actor; email: boolean }): Promise<void> =>
  inTransaction(db, async (tx) => {
    const before = await queries.readMine(tx.execute, actor.personId);
    await queries.setEmail(tx.execute, { personId: actor.personId, email });
    await writeAudit(tx.execute, actor, {
      ...about(actor),
      action: 'changed the reminders of',
      changes: changesBetween({ email: before.email }, { email }),
    });
  });

const about = ({ personId, name }: Actor) => ({ kind: 'person', id: personId, number: name }) as const;

/**
 * Sends the morning's digest to everybody who wants it and did not have it today, if anything is due. Called every few
 * minutes; each person is taken once a day.
 */
export async function sendDueDigests(
  db: Db,
  { mailer, publicUrl }: { mailer: Mailer; publicUrl: string },
): Promise<number> {
  const due = await queries.takeWhoIsDue(db.execute);
  if (due.length === 0) return 0;
  const waiting = await readDue(db.execute);
  if ([waiting.reminders, ...Object.values(waiting.shelf)].every((lines) => lines.length === 0)) return 0;
  const failures: unknown[] = [];
  for (const { personId, email } of due) {
    try {
      await mailer.send({ to: email, ...digestOf(waiting, publicUrl) });
    } catch (error) {
      // The next look tries again; the others get theirs now.
      await queries.notSent(db.execute, personId);
      failures.push(error);
    }
  }
  if (failures.length > 0) throw failures[0];
  return due.length;
}
