import type { AddressInfo } from 'node:net';
import type { BathReminder, MyReminders } from '@huelot/contracts';
import ICAL from 'ical.js';
import { SMTPServer } from 'smtp-server';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openMailer } from '../../kernel/mailer.ts';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';
import { sendDueDigests } from './digest.ts';

/** What arrived at a mail server of this test. */
const letters: { to: string[]; text: string }[] = [];
const server = new SMTPServer({
  authOptional: true,
  disabledCommands: ['STARTTLS'],
  onData: (stream, session, done) => {
    let text = '';
    stream.on('data', (chunk: Buffer) => (text += chunk.toString('utf8')));
    stream.on('end', () => {
      letters.push({ to: session.envelope.rcptTo.map(({ address }) => address), text });
      done();
    });
  },
});
await new Promise<void>((listens) => server.listen(0, '127.0.0.1', listens));
const { port } = server.server.address() as AddressInfo;
const mailer = openMailer({ url: `smtp://127.0.0.1:${port}`, from: 'lab@example.org' });
afterAll(() => new Promise<void>((closed) => server.close(closed)));

const { app, as, db } = await testApp({ mailer });
let lena: Ask & { personId: number };
let of: lab.EquippedLab;
beforeAll(async () => {
  lena = await as('lab', 'planner');
  of = await lab.equipLab(lena);
  const weekAgo = new Date(Date.now() - 8 * 86_400_000);
  await db.prisma.bath.update({ where: { id: of.bath.id }, data: { madeUpAt: weekAgo } });
});

const reminders = async () =>
  (await lena({ url: '/api/bath-reminders' })).json<{ items: BathReminder[] }>().items;

it('lists what is overdue, until it is analysed', async () => {
  expect(await reminders()).toMatchObject([
    { bathId: of.bath.id, kind: 'plan', title: 'Analyse potassium hydroxide, carbonate', overdue: true },
  ]);
  await lab.post(lena, `/api/baths/${of.bath.id}/requests`, {
    components: ['KOH'],
    dueAt: new Date(Date.now() + 3_600_000).toISOString(),
    note: 'before the black',
  });
  expect((await reminders()).map(({ kind, overdue }) => [kind, overdue])).toEqual([
    ['plan', true],
    ['request', false],
  ]);
});

it('sends a digest by e-mail to whoever wants it, once a morning', async () => {
  await db.prisma.person.update({ where: { id: lena.personId }, data: { email: 'lena@example.org' } });
  const off = (await lena({ url: '/api/me/reminders' })).json<MyReminders>();
  expect(off).toMatchObject({ email: false, address: 'lena@example.org', canSend: true });
  expect(await sendDueDigests(db, { mailer, publicUrl: 'https://huelot.example.org' })).toBe(0);

  await lena({ method: 'PUT', url: '/api/me/reminders', payload: { email: true } });
  // Whatever the hour of this test is, it is late enough somewhere.
  const hour = new Date().getUTCHours();
  await db.prisma.shop.update({ where: { id: 1 }, data: { timeZone: `Etc/GMT${hour < 12 ? '-10' : '+0'}` } });
  const sent = () => sendDueDigests(db, { mailer, publicUrl: 'https://huelot.example.org' });
  const down = { send: () => Promise.reject(new Error('the mail server is down')) };
  await expect(sendDueDigests(db, { mailer: down, publicUrl: 'https://huelot.example.org' })).rejects.toThrow(
    'down',
  );
  expect(await sent()).toBe(1);
  expect(await sent()).toBe(0);
  const [letter] = letters;
  expect(letters).toHaveLength(1);
  expect(letter?.to).toEqual(['lena@example.org']);
  expect(letter?.text).toContain('Subject: Wet lab: 1 analysis is overdue');
  expect(letter?.text).toContain('From: lab@example.org');
  expect(letter?.text).toContain(of.tank.code);
  expect(letter?.text).toContain(`https://huelot.example.org/lab/baths/${of.bath.id}`);
});

it('says what else the lab must see to: holds, stock, dates, calibrations; and where it is switched off', async () => {
  const day = (days: number) => new Date(Date.now() + days * 86_400_000);
  await db.prisma.chemical.update({ where: { id: of.chemical.id }, data: { reorderPointKg: 1e6 } });
  await db.prisma.chemicalLot.update({ where: { id: of.lot.id }, data: { expiresOn: day(-3) } });
  await db.prisma.instrument.create({
    data: {
      code: 'BU-9',
      name: 'Burette',
      kind: 'burette',
      serial: '',
      notes: '',
      calibrationDueOn: day(-3),
    },
  });
  await lab.post(lena, `/api/baths/${of.bath.id}/holds`, { additionId: null, reason: 'foam on it' });
  await lena({ method: 'POST', url: '/api/me/reminders/digest', payload: {} });
  // Quoted-printable breaks long lines.
  const text = letters.at(-1)?.text.replaceAll(/=\r?\n/g, '') ?? '';
  for (const words of [
    /Baths on hold\W+- .*foam on it/,
    /To be bought\W+- KOH-90-\d+ .*left, reorder point 1000000/,
    /Past their date\W+- KOH-90-\d+ lot /,
    /Calibration overdue\W+- BU-9 Burette/,
    /under My account: http:\/\/localhost:4070\/account/,
  ])
    expect(text).toMatch(words);
});

it('sends me the digest when I try it, and says why where it cannot', async () => {
  const before = letters.length;
  const tryIt = (ask: Ask) => ask({ method: 'POST', url: '/api/me/reminders/digest', payload: {} });
  expect((await tryIt(lena)).statusCode).toBe(200);
  expect(letters).toHaveLength(before + 1);
  const nowhere = await tryIt(await as('lab'));
  expect(nowhere.json<{ detail: string }>().detail).toContain('no e-mail address');
});

it('is a calendar that a calendar program can read, behind a secret that can be made void', async () => {
  const { id, url } = await lab.post<{ id: number; url: string }>(lena, '/api/me/calendar-feeds', {});
  const path = new URL(url).pathname;
  expect(path).toMatch(/^\/api\/calendar\/[\w-]{43}\.ics$/);
  const kept = await db.prisma.calendarFeed.findUniqueOrThrow({ where: { id } });
  expect(Buffer.from(kept.secretHash).toString('latin1')).not.toContain(path.slice(14, 40));

  const reply = await app.inject({ url: path });
  expect(reply.headers['content-type']).toBe('text/calendar; charset=utf-8');
  const calendar = new ICAL.Component(ICAL.parse(reply.body) as unknown[]);
  expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
  expect(calendar.getFirstPropertyValue('prodid')).toContain('Huelot');
  const events = calendar.getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
  expect(events.map(({ summary }) => summary)).toEqual([
    `${of.tank.code}: Analysis asked for`,
    `${of.tank.code}: Analyse potassium hydroxide, carbonate (overdue)`,
  ]);
  // It was due a day ago: an overdue event stayed in the past, where nobody looks, and nothing rang.
  const due = events[1]?.startDate.toJSDate().getTime() ?? 0;
  expect(due).toBeGreaterThanOrEqual(Date.now() - 60_000);
  expect(due).toBeLessThanOrEqual(Date.now() + 3_600_000);
  expect(
    calendar.getAllSubcomponents('vevent').map((one) => one.getAllSubcomponents('valarm').length),
  ).toEqual([1, 1]);
  expect(new Set(events.map(({ uid }) => uid)).size).toBe(2);
  expect(reply.body.split('\r\n').every((line) => Buffer.byteLength(line) <= 75)).toBe(true);

  const stranger = await as('lab');
  expect(
    (await stranger({ method: 'DELETE', url: `/api/me/calendar-feeds/${id}`, payload: {} })).statusCode,
  ).toBe(404);
  expect(
    (await lena({ method: 'DELETE', url: `/api/me/calendar-feeds/${id}`, payload: {} })).statusCode,
  ).toBe(200);
  expect((await app.inject({ url: path })).statusCode).toBe(404);
  expect((await app.inject({ url: '/api/calendar/guessed.ics' })).statusCode).toBe(404);
});
