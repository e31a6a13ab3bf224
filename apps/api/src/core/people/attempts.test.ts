import { beforeEach, expect, test } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';
import type { Actor } from '../../kernel/actor.ts';
import type { DomainError } from '../../kernel/refusal.ts';
import { networkOf } from './attempts.ts';
import { personOfPin } from './prove.ts';
import { actorOfToken, openSignIn } from './sign-in.ts';

const password = 'seven grey herons';
const huelot: TestApp = await testApp();
const { db } = huelot;
let people = 0;
let victim: Awaited<ReturnType<typeof addPersonWith>>;
beforeEach(async () => {
  people += 1;
  await db.pool.query('delete from attempt_window');
  victim = await addPersonWith(db, { name: `victim${people}`, password, pin: '0123' });
});

/** The victim, as the plugin that reads the cookie sees a person. */
async function signedInPerson(): Promise<Actor> {
  const opened = await openSignIn(db, victim, { address: '192.0.2.1', agent: 'test' });
  const actor = await actorOfToken(db, { token: opened, address: '192.0.2.1' });
  if (actor === null) throw new Error('the sign-in is open');
  return actor;
}
const times = <T>(count: number, work: (index: number) => Promise<T>) =>
  Promise.all(Array.from({ length: count }, (_, index) => work(index)));
const evaluated = (replies: { statusCode: number }[]) =>
  replies.filter(({ statusCode }) => ![429, 503].includes(statusCode)).length;
/** A flood may run out of connections, so that fewer than the limit are evaluated; never more. */
function expectAtMost(limit: number, replies: { statusCode: number }[]) {
  expect(evaluated(replies)).toBeGreaterThan(0);
  expect(evaluated(replies)).toBeLessThanOrEqual(limit);
  expect([401, 429, 503]).toEqual(
    expect.arrayContaining([...new Set(replies.map(({ statusCode }) => statusCode))]),
  );
}
const auditOf = async (personId: number) => {
  const entries = await db.prisma.auditEntry.findMany({
    where: { recordKind: 'person', recordId: personId },
  });
  return entries.map(({ action }) => action);
};

test('four hundred guesses that arrive at once were all evaluated', async () => {
  const replies = await times(400, (index) =>
    signInAs(huelot, { name: victim.name, password: `guess ${index}` }),
  );
  expectAtMost(10, replies);
});

test('a thousand guesses at once got past the limit in other spellings and from other addresses', async () => {
  const wide = victim.name.replaceAll(/[a-z]/g, (letter) =>
    String.fromCharCode(letter.charCodeAt(0) + 0xfee0),
  );
  const spellings = [victim.name, victim.name.toUpperCase(), ` ${victim.name}`, wide];
  const replies = await times(1000, (index) =>
    signInAs(huelot, {
      name: spellings[index % spellings.length] ?? '',
      password: `guess ${index}`,
      address: `198.51.${index % 100}.7`,
    }),
  );
  expectAtMost(30, replies);
});

test('no account is guessed at more than a hundred times a day from browsers it does not know', async () => {
  let count = 0;
  for (let quarter = 0; quarter < 5; quarter += 1) {
    const replies = await times(40, (index) =>
      signInAs(huelot, { name: victim.name, password: 'guess', address: `198.51.100.${index}` }),
    );
    count += evaluated(replies);
    await db.pool.query(`update attempt_window set "endsAt" = now() where key not like '%in a day'`);
  }
  expect(count).toBe(100);
});

test('one address guessed at as many names as it liked', async () => {
  const replies = await times(120, (index) => signInAs(huelot, { name: `name${index}`, password: 'guess' }));
  expect(evaluated(replies)).toBe(50);
});

test('right passwords are no guesses, however many come in a row', async () => {
  for (let index = 0; index < 12; index += 1) {
    expect((await signInAs(huelot, { name: victim.name, password })).statusCode).toBe(200);
  }
});

test('strangers locked a person out of a browser the person uses', async () => {
  const cookie = cookiesOf(await signInAs(huelot, { name: victim.name, password }));
  await times(60, (index) =>
    signInAs(huelot, { name: victim.name, password: 'guess', address: `198.51.100.${index}` }),
  );
  expect((await signInAs(huelot, { name: victim.name, password })).statusCode).toBe(429);
  expect((await signInAs(huelot, { name: victim.name, password, cookie })).statusCode).toBe(200);
  const other = await addPersonWith(db, { name: `other${people}`, password });
  await times(60, (index) =>
    signInAs(huelot, { name: other.name, password: 'guess', address: `203.0.113.${index}` }),
  );
  const strange = await signInAs(huelot, { name: other.name, password, cookie });
  expect(strange.statusCode, 'a browser known for one person is not known for another').toBe(429);
});

test('a known browser guesses no more often than any other', async () => {
  const cookie = cookiesOf(await signInAs(huelot, { name: victim.name, password }));
  const replies = await times(60, () => signInAs(huelot, { name: victim.name, password: 'guess', cookie }));
  expect(evaluated(replies)).toBe(10);
});

test('two hundred PINs at once found the right one', async () => {
  const actor = await signedInPerson();
  const answers = await times(200, (index) =>
    personOfPin(db, {
      actor,
      personId: victim.id,
      pin: String(index).padStart(4, '0'),
      path: 'signer.pin',
    }).then(
      () => 'found',
      (error: unknown) => (error as DomainError).code,
    ),
  );
  const wrong = answers.filter((answer) => answer === 'wrong-credentials');
  expect(wrong.length + answers.filter((answer) => answer === 'found').length).toBe(10);
  expect((await auditOf(victim.id)).filter((action) => action === 'gave a wrong PIN for')).toHaveLength(
    wrong.length,
  );
});

test.each([
  ['/api/me/password', { password: 'eleven blue chairs' }, 'current'],
  ['/api/me/pin', { pin: '4711' }, 'password'],
] as const)('at %s the password was guessed without a limit', async (url, wanted, field) => {
  const cookie = cookiesOf(await signInAs(huelot, { name: victim.name, password }));
  const replies = await times(60, (index) =>
    huelot.app.inject({
      method: 'PUT',
      url,
      headers: { cookie },
      payload: { ...wanted, [field]: `guess ${index}` },
    }),
  );
  expect(evaluated(replies)).toBe(10);
  expect((await auditOf(victim.id)).filter((action) => action === 'gave a wrong password for')).toHaveLength(
    10,
  );
});

test('signing in under the name of a PIN locked the PIN', async () => {
  await times(20, () => signInAs(huelot, { name: `pin ${victim.id}`, password: 'guess' }));
  const { rows } = await db.pool.query<{ key: string }>(
    `select key from attempt_window where key like 'pin%'`,
  );
  expect(rows).toEqual([]);
});

test('a flood of failures filled the audit trail', async () => {
  await times(400, (index) =>
    signInAs(huelot, { name: victim.name, password: 'guess', address: `198.51.100.${index % 5}` }),
  );
  const refusals = (await auditOf(victim.id)).filter((action) => action === 'was refused at sign-in');
  expect(refusals.length).toBeGreaterThanOrEqual(2);
  expect(refusals.length).toBeLessThanOrEqual(12);
});

test('what was typed for a name reached the audit trail, and it was a password', async () => {
  await signInAs(huelot, { name: 'my-secret-password', password: 'lena', address: '192.0.2.99' });
  expect(await db.prisma.auditEntry.count({ where: { recordNumber: 'my-secret-password' } })).toBe(0);
});

test('an attacker with one IPv6 network had as many addresses as wanted', () => {
  expect(networkOf('2001:db8:1:2:3:4:5:6')).toBe('2001:db8:1:2::/64');
  expect(networkOf('2001:db8::6')).toBe('2001:db8:0:0::/64');
  expect(networkOf('::1')).toBe('0:0:0:0::/64');
  expect(networkOf('::ffff:192.0.2.7')).toBe('192.0.2.7');
  expect(networkOf('192.0.2.7')).toBe('192.0.2.7');
});
