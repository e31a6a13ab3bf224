import type { BathReminder } from '@huelot/contracts';
import type { Db } from '../../db/client.ts';
import type { Mailer } from '../../mailer.ts';
import { Refusal } from '../../refusal.ts';
import * as queries from './reminder-queries.ts';
import { readReminders } from './reminders.ts';

/** The digest in plain words; every line says where and what. */
function digestOf(reminders: readonly BathReminder[], publicUrl: string): { subject: string; text: string } {
  const overdue = reminders.filter((one) => one.overdue);
  const line = ({ tankCode, bathNumber, bathId, title, detail }: BathReminder) =>
    `- ${tankCode}, ${bathNumber}: ${title}${detail === '' ? '' : ` (${detail})`}\n  ${publicUrl}/lab/baths/${bathId}`;
  const part = (head: string, of: readonly BathReminder[]) =>
    of.length === 0 ? [] : [head, ...of.map(line), ''];
  const text = [
    ...part('Overdue', overdue),
    ...part(
      'Coming',
      reminders.filter((one) => !one.overdue),
    ),
    reminders.length === 0 ? 'Nothing is due in the wet lab.\n' : '',
    `The whole list: ${publicUrl}/lab`,
    'You get this because you asked for it; switch it off among your reminders there.',
  ].join('\n');
  const count = overdue.length === 1 ? '1 analysis is overdue' : `${overdue.length} analyses are overdue`;
  return { subject: overdue.length === 0 ? 'Wet lab: what is coming' : `Wet lab: ${count}`, text };
}

/** Sends the digest to one person now. */
export async function sendDigest(
  db: Db,
  of: { personId: number; mailer: Mailer | null; publicUrl: string },
): Promise<Record<string, never>> {
  const { mailer } = of;
  if (mailer === null)
    throw new Refusal(
      'conflict',
      'This installation has no mail server: whoever runs it can set HUELOT_SMTP_URL.',
    );
  const { address } = await queries.readMine(db.run, of.personId);
  if (address === null || address === '')
    throw new Refusal('conflict', 'Your account has no e-mail address: the owner can add one.');
  await mailer.send({ to: address, ...digestOf(await readReminders(db.run), of.publicUrl) });
  return {};
}

/**
 * Sends the morning's digest to everybody who wants it and did not have it today, if anything is due. Called every few
 * minutes; each person is taken once a day.
 */
export async function sendDueDigests(db: Db, of: { mailer: Mailer; publicUrl: string }): Promise<number> {
  const due = await queries.takeWhoIsDue(db.run);
  if (due.length === 0) return 0;
  const reminders = await readReminders(db.run);
  if (reminders.length === 0) return 0;
  const failures: unknown[] = [];
  for (const { personId, email } of due) {
    try {
      await of.mailer.send({ to: email, ...digestOf(reminders, of.publicUrl) });
    } catch (error) {
      // The next look tries again; the others get theirs now.
      await queries.notSent(db.run, personId);
      failures.push(error);
    }
  }
  if (failures.length > 0) throw failures[0];
  return due.length;
}
