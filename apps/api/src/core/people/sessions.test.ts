import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addressOf, endpoints } from '../../../../../tests/support/endpoints.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';

const huelot = await testApp();
const { app, db } = huelot;
const password = 'seven grey herons';
const HOUR_MS = 3_600_000;

const ask = (cookie: string, url = '/api/me') => app.inject({ url, headers: { cookie } });
const post = (cookie: string, url: string) => app.inject({ method: 'POST', url, headers: { cookie } });
const signedIn = async (name: string) => cookiesOf(await signInAs(huelot, { name, password }));

test('the token of a sign-in had less than 128 random bits', async () => {
  await addPersonWith(db, { name: 'random', password });
  const tokens = [];
  for (let count = 0; count < 5; count += 1) {
    const { cookies } = await signInAs(huelot, { name: 'random', password });
    tokens.push(cookies.find(({ name }) => name === 'huelot')?.value ?? '');
  }
  for (const token of tokens) expect(Buffer.from(token, 'base64url').length).toBe(32);
  expect(new Set(tokens.map((token) => token.slice(0, 8))).size).toBe(tokens.length);
  const stored = await db.prisma.signIn.findMany({ select: { tokenHash: true } });
  for (const { tokenHash } of stored)
    expect(tokens).not.toContain(Buffer.from(tokenHash).toString('base64url'));
});

test('a cookie still opened something after signing out', async () => {
  await addPersonWith(db, { name: 'left', password, roles: ['owner'] });
  const cookie = await signedIn('left');
  expect((await ask(cookie)).statusCode).toBe(200);
  expect((await post(cookie, '/api/sign-out')).statusCode).toBe(200);
  const doors = endpoints.filter(([, { access }]) => access !== 'anyone');
  expect(doors.length).toBeGreaterThan(150);
  for (const [name, endpoint] of doors) {
    const { method } = endpoint;
    const answer = await app.inject({ method, url: addressOf(endpoint), headers: { cookie } });
    expect(answer.statusCode, name).toBe(401);
  }
});

test('somebody whose account was switched off went on working', async () => {
  const owner = await huelot.as('owner');
  const person = await addPersonWith(db, { name: 'dismissed', password });
  const cookies = [await signedIn('dismissed'), await signedIn('dismissed')];
  const off = await owner({
    method: 'PUT',
    url: `/api/people/${person.id}`,
    headers: { 'if-match': `"${person.version}"` },
    payload: { displayName: 'dismissed', email: '', roles: ['operator'], active: false },
  });
  expect(off.statusCode, off.body).toBe(200);
  for (const cookie of cookies) expect((await ask(cookie)).statusCode).toBe(401);
});

test.each([
  ['12 hours without a request', { lastSeenAt: 12.1 }, 401],
  ['11 hours without a request', { lastSeenAt: 11 }, 200],
  ['14 days whatever happens', { createdAt: 14 * 24 + 0.1 }, 401],
  ['13 days', { createdAt: 13 * 24 }, 200],
])('a sign-in ended otherwise than after %s', async (...[, hoursAgo, status]) => {
  const name = `timed-${Object.values(hoursAgo)[0]}`;
  const { id } = await addPersonWith(db, { name, password });
  const cookie = await signedIn(name);
  const moved = Object.entries(hoursAgo).map(([field, hours]) => [
    field,
    new Date(Date.now() - hours * HOUR_MS),
  ]);
  await db.prisma.signIn.updateMany({ where: { personId: id }, data: Object.fromEntries(moved) as object });
  expect((await ask(cookie)).statusCode).toBe(status);
});

test('a lost tablet could not be signed out from elsewhere', async () => {
  await addPersonWith(db, { name: 'losing', password });
  const [lost, here] = [await signedIn('losing'), await signedIn('losing')];
  const { items } = (await ask(here, '/api/me/sign-ins')).json<{
    items: { id: number; current: boolean }[];
  }>();
  expect(items.map(({ current }) => current).sort()).toEqual([false, true]);
  const other = items.find(({ current }) => !current);
  const end = (cookie: string) =>
    app.inject({ method: 'DELETE', url: `/api/me/sign-ins/${other?.id}`, headers: { cookie } });

  await addPersonWith(db, { name: 'stranger', password });
  expect((await end(await signedIn('stranger'))).statusCode).toBe(404);
  expect((await ask(lost)).statusCode).toBe(200);

  expect((await end(here)).statusCode).toBe(200);
  expect((await ask(lost)).statusCode).toBe(401);
  expect((await ask(here)).statusCode).toBe(200);
});

test('a role that was taken away, or given, counted only after signing in again', async () => {
  const owner = await huelot.as('owner');
  const person = await addPersonWith(db, { name: 'moved', password, roles: ['operator'] });
  const cookie = await signedIn('moved');
  const customers = async () => (await ask(cookie, '/api/customers')).statusCode;
  let { version } = person;
  const become = async (role: string) => {
    const changed = await owner({
      method: 'PUT',
      url: `/api/people/${person.id}`,
      headers: { 'if-match': `"${version}"` },
      payload: { displayName: 'moved', email: '', roles: [role], active: true },
    });
    version = changed.json<{ version: number }>().version;
  };
  expect(await customers()).toBe(403);
  await become('estimator');
  expect(await customers()).toBe(200);
  await become('operator');
  expect(await customers()).toBe(403);
});

test('somebody gave themselves a role by sending it along', async () => {
  const person = await addPersonWith(db, { name: 'climber', password });
  const cookie = await signedIn('climber');
  const climbing = await app.inject({
    method: 'PUT',
    url: '/api/me/preferences',
    headers: { cookie },
    payload: { units: 'metric', theme: 'dark', roles: ['owner'] },
  });
  expect(climbing.statusCode).toBe(422);
  expect(climbing.body).toContain('roles');
  const after = await db.prisma.person.findUniqueOrThrow({ where: { id: person.id } });
  expect(after).toMatchObject({ roles: ['operator'], theme: 'system' });
});

test('who signed in, who failed and from where was nowhere to be read', async () => {
  await addPersonWith(db, { name: 'watched', password });
  const began = Date.now();
  await signInAs(huelot, { name: 'watched', password: 'not this one', address: '203.0.113.40' });
  await signInAs(huelot, { name: 'watched', password, address: '203.0.113.41' });
  const seen = await db.prisma.auditEntry.findMany({
    where: { recordNumber: 'watched' },
    orderBy: { id: 'asc' },
  });
  expect(seen).toMatchObject([
    { action: 'was refused at sign-in', personName: 'nobody', address: '203.0.113.40' },
    { action: 'signed in', personName: 'watched', address: '203.0.113.41' },
  ]);
  for (const { at } of seen) expect(at.getTime()).toBeGreaterThanOrEqual(began - 1000);
  const owner = await huelot.as('owner');
  const { items } = (await owner({ url: '/api/audit?limit=5' })).json<{
    items: { recordNumber: string | null; action: string; at: string }[];
  }>();
  const shown = items.filter(({ recordNumber }) => recordNumber === 'watched');
  expect(shown.map(({ action }) => action)).toEqual(['signed in', 'was refused at sign-in']);
  for (const { at } of shown) expect(at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
});
