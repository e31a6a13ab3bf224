import { randomBytes } from 'node:crypto';
import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';
import { testSecrets } from '../../../../../tests/support/secrets.ts';
import { secretBox } from '../../kernel/secret-box.ts';
import { sealStoredSecrets } from './app-secrets.ts';
import { codeAt, stepOfCode } from './authenticator-app.ts';
import { recover } from './recover.ts';

const password = 'seven grey herons';
const huelot = await testApp();
const { app, db } = huelot;
const HALF_MINUTE = 30_000;

type Method = 'GET' | 'POST' | 'PUT' | 'DELETE';
/** A request as the browser with these cookies sends it. */
const from =
  (cookie: string) =>
  (method: Method, url: string, payload: object = {}) =>
    app.inject({ method, url: `/api${url}`, headers: { cookie }, ...(method === 'GET' ? {} : { payload }) });

/** Somebody with an app; what is used of it is a half minute old, so that the present code is fresh. */
async function personWithApp(name: string) {
  const person = await addPersonWith(db, { name, password });
  const cookie = cookiesOf(await signInAs(huelot, { name, password }));
  expect((await from(cookie)('POST', '/me/authenticator-app')).json()).toMatchObject({ code: 'prove-again' });
  await from(cookie)('POST', '/me/proof', { kind: 'password', secret: password });
  const { secret } = (await from(cookie)('POST', '/me/authenticator-app')).json<{ secret: string }>();
  const confirmed = await from(cookie)('PUT', '/me/authenticator-app', {
    code: codeAt(secret, Date.now() - HALF_MINUTE),
  });
  const { recoveryCodes } = confirmed.json<{ recoveryCodes: string[] }>();
  return { person, cookie, secret, recoveryCodes };
}
const withCode = async (name: string, code: string) => {
  const waiting = await signInAs(huelot, { name, password });
  return from(cookiesOf(waiting))('POST', '/sign-in/code', { code });
};

let enrolled: Awaited<ReturnType<typeof personWithApp>>;
beforeAll(async () => {
  enrolled = await personWithApp('tess');
});

test.each([
  [59, '287082'],
  [1111111109, '081804'],
  [1111111111, '050471'],
  [1234567890, '005924'],
  [2000000000, '279037'],
  [20000000000, '353130'],
])('the code of second %i is that of RFC 6238', (second, code) => {
  // The secret of the RFC, 12345678901234567890, in base32; of its eight digits the last six.
  const secret = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ';
  expect(codeAt(secret, second * 1000)).toBe(code);
  expect(stepOfCode(secret, code, second * 1000)).toBe(Math.floor(second / 30));
  expect(stepOfCode(secret, code, (second + 90) * 1000)).toBeNull();
});

test('the password alone opened an account with a second factor', async () => {
  const waiting = await signInAs(huelot, { name: 'tess', password });
  expect(waiting.json()).toEqual({ secondFactor: { passkey: null, app: true } });
  expect((await from(cookiesOf(waiting))('GET', '/me')).statusCode).toBe(401);
});

test('a code was used twice, by somebody who looked over the shoulder', async () => {
  const code = codeAt(enrolled.secret, Date.now());
  expect((await withCode('tess', code)).json()).toMatchObject({ person: { name: 'tess' } });
  expect((await withCode('tess', code)).json()).toMatchObject({ code: 'wrong-credentials' });
  expect((await withCode('tess', codeAt(enrolled.secret, Date.now() - HALF_MINUTE))).statusCode).toBe(401);
});

test('a hundred codes at once were all evaluated', async () => {
  await db.pool.query('delete from attempt_window');
  const cookie = cookiesOf(await signInAs(huelot, { name: 'tess', password }));
  const replies = await Promise.all(
    Array.from({ length: 100 }, (_, index) =>
      from(cookie)('POST', '/sign-in/code', { code: String(index).padStart(6, '0') }),
    ),
  );
  expect(replies.filter(({ statusCode }) => statusCode !== 429)).toHaveLength(10);
  await db.pool.query('delete from attempt_window');
});

test('a recovery code works once, in any writing, also for two at once', async () => {
  const [first = '', second = ''] = enrolled.recoveryCodes;
  expect(enrolled.recoveryCodes).toHaveLength(10);
  expect((await withCode('tess', first.toUpperCase().replaceAll('-', ' '))).statusCode).toBe(200);
  expect((await withCode('tess', first)).statusCode).toBe(401);
  const both = await Promise.all([withCode('tess', second), withCode('tess', second)]);
  expect(both.map(({ statusCode }) => statusCode).toSorted()).toEqual([200, 401]);
  const state = await from(enrolled.cookie)('GET', '/me/second-factor');
  expect(state.json()).toMatchObject({ recoveryCodesLeft: 8, passkeys: [] });
  const stored = await db.pool.query('select * from recovery_code');
  expect(JSON.stringify(stored.rows)).not.toContain(first);
});

test('one step was finished for two sign-ins', async () => {
  const [, , code = '', other = ''] = enrolled.recoveryCodes;
  const cookie = cookiesOf(await signInAs(huelot, { name: 'tess', password }));
  expect((await from(cookie)('POST', '/sign-in/code', { code })).statusCode).toBe(200);
  expect((await from(cookie)('POST', '/sign-in/code', { code: other })).statusCode).toBe(401);
});

test('the name of a step under way was given for the cookie of a sign-in, without a password', async () => {
  await from(enrolled.cookie)('POST', '/me/proof/passkey-options');
  const [signIn] = await db.prisma.signIn.findMany({ where: { personId: enrolled.person.id } });
  const [, , , , code = ''] = enrolled.recoveryCodes;
  const name = encodeURIComponent(`prove a passkey on sign-in ${signIn?.id ?? 0}`);
  expect((await from(`huelot-step=${name}`)('POST', '/sign-in/code', { code })).statusCode).toBe(401);
});

test.each([
  ['a null character for a name', { id: '\0', rawId: '\0', response: {} }, 422],
  ['nothing that was signed', { id: 'abcd', rawId: 'abcd', response: {} }, 401],
  ['figures for what was signed', { id: 'abcd', rawId: 'abcd', response: { clientDataJSON: 7 } }, 401],
  ['no list of ways', { id: 'abcd', rawId: 'abcd', response: { transports: { usb: true } } }, 422],
])('a passkey that sends %s broke the sign-in', async (_, sent, status) => {
  const begun = await from('')('POST', '/sign-in/passkey-options');
  const response = { type: 'public-key', ...sent };
  const reply = await from(cookiesOf(begun))('POST', '/sign-in/passkey', { response });
  expect(reply.statusCode, reply.body).toBe(status);
});

test('a made-up passkey was added to an account', async () => {
  await from(enrolled.cookie)('POST', '/me/passkeys/options');
  const response = { id: 'abcd', rawId: 'abcd', type: 'public-key', response: { clientDataJSON: 'e30' } };
  const added = await from(enrolled.cookie)('POST', '/me/passkeys', { name: 'made up', response });
  expect(added.json()).toMatchObject({ code: 'wrong-credentials' });
  expect(await db.prisma.passkey.count()).toBe(0);
});

test('an owner’s one-time link went round the second factor', async () => {
  const owner = await huelot.as('owner');
  const issued = await owner({ method: 'POST', url: `/api/people/${enrolled.person.id}/link`, payload: {} });
  const url = issued.json<{ url: string }>().url.replace('/invitation/', '/invitations/');
  const accepted = await from('')('POST', url, { password });
  expect(accepted.json()).toEqual({ secondFactor: { passkey: null, app: true } });
});

test('whoever lost the second factor stayed out after recovery on the server', async () => {
  const { url } = await recover(db, { name: 'tess' });
  const accepted = await from('')('POST', url.replace('/invitation/', '/invitations/'), { password });
  expect(accepted.json()).toMatchObject({ person: { name: 'tess' } });
  expect((await signInAs(huelot, { name: 'tess', password })).json()).toMatchObject({
    person: { name: 'tess' },
  });
});

test('a PIN changed how its person signs in', async () => {
  await addPersonWith(db, { name: 'pina', password, pin: '4711' });
  const cookie = cookiesOf(await signInAs(huelot, { name: 'pina', password }));
  await from(cookie)('POST', '/me/proof', { kind: 'pin', secret: '4711' });
  expect((await from(cookie)('POST', '/me/authenticator-app')).json()).toMatchObject({ code: 'prove-again' });
});

test('whose role needs a second factor does nothing before there is one', async () => {
  const owner = await huelot.as('owner');
  const { version } = (await owner({ url: '/api/sign-in-rules' })).json<{ version: number }>();
  const changed = await owner({
    method: 'PUT',
    url: '/api/sign-in-rules',
    headers: { 'if-match': `"${version}"` },
    payload: { secondFactorRoles: ['quality'] },
  });
  expect(changed.json()).toEqual({ secondFactorRoles: ['quality'], version: version + 1 });
  const quality = await huelot.as('quality');
  expect((await quality({ url: '/api/me' })).json()).toMatchObject({ lacksSecondFactor: true });
  for (const url of ['/api/materials', '/api/shop', '/api/trace.csv', '/api/audit'])
    expect((await quality({ url })).statusCode, url).toBe(403);
  const { secret } = (await quality({ method: 'POST', url: '/api/me/authenticator-app', payload: {} })).json<{
    secret: string;
  }>();
  expect((await quality({ url: '/api/materials' })).statusCode, 'before it is confirmed').toBe(403);
  await quality({
    method: 'PUT',
    url: '/api/me/authenticator-app',
    payload: { code: codeAt(secret, Date.now()) },
  });
  expect((await quality({ url: '/api/materials' })).statusCode).toBe(200);
  expect((await owner({ url: '/api/materials' })).statusCode).toBe(200);
});

const storedSecret = async (personId: number) =>
  (await db.prisma.authenticatorApp.findUniqueOrThrow({ where: { personId } })).secret;

test('the secret of an app lay in clear in the database', async () => {
  const { person, secret } = await personWithApp('sealed');
  const stored = await storedSecret(person.id);
  expect(stored).toMatch(/^sealed:/);
  expect(stored).not.toContain(secret);
  const kept = await db.pool.query<{ text: string }>(
    `select coalesce(string_agg(reply, ''), '') as text from answered`,
  );
  expect(kept.rows[0]?.text).not.toContain(secret);
});

test('what an earlier release stored in clear stayed so, or opened no more', async () => {
  const { person, secret } = await personWithApp('earlier');
  await db.prisma.authenticatorApp.update({ where: { personId: person.id }, data: { secret } });
  expect((await withCode('earlier', codeAt(secret, Date.now()))).statusCode).toBe(200);
  expect(await sealStoredSecrets(db, testSecrets)).toMatchObject({ sealed: 1, unreadable: 0 });
  expect(await storedSecret(person.id)).toMatch(/^sealed:/);
  expect(await sealStoredSecrets(db, testSecrets)).toMatchObject({ sealed: 0, unreadable: 0 });
  expect((await withCode('earlier', codeAt(secret, Date.now() + HALF_MINUTE))).statusCode).toBe(200);
});

test('a secret that was moved to somebody else, or sealed with a lost key, was taken for a wrong code', async () => {
  const { person, secret, recoveryCodes } = await personWithApp('moved');
  const other = await personWithApp('other');
  await db.prisma.authenticatorApp.update({
    where: { personId: person.id },
    data: { secret: await storedSecret(other.person.id) },
  });
  expect((await sealStoredSecrets(db, testSecrets)).unreadable).toBe(1);
  for (const code of [codeAt(secret, Date.now()), codeAt(other.secret, Date.now())]) {
    const refused = (await withCode('moved', code)).json<{ code: string; detail: string }>();
    expect(refused.code).toBe('conflict');
    expect(refused.detail).toMatch(/Use a recovery code or a passkey/);
  }
  expect((await withCode('moved', recoveryCodes[0] ?? '')).statusCode).toBe(200);
  await db.prisma.authenticatorApp.delete({ where: { personId: person.id } });
  expect((await sealStoredSecrets(db, secretBox(randomBytes(32)))).unreadable).toBeGreaterThan(0);
});
