import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';

const huelot = await testApp();
const { app, db } = huelot;
const first = 'seven grey herons';

/** Somebody signed in with a password, who changes it over the wire. */
async function somebody(name: string) {
  const person = await addPersonWith(db, { name, password: first });
  let cookie = cookiesOf(await signInAs(huelot, { name, password: first }));
  return {
    person,
    change: (current: string, password: string) =>
      app.inject({
        method: 'PUT',
        url: '/api/me/password',
        headers: { cookie },
        payload: { current, password },
      }),
    signIn: async (password: string) => {
      const answer = await signInAs(huelot, { name, password, cookie });
      if (answer.statusCode === 200) cookie = cookiesOf(answer);
      return answer.statusCode;
    },
  };
}

test('a password of seven characters was taken, or one of eight refused', async () => {
  const { change } = await somebody('short');
  const refused = await change(first, 'fog-owl');
  expect(refused.statusCode).toBe(422);
  expect(refused.json()).toMatchObject({
    issues: [{ path: 'password', message: 'must have at least 8 characters' }],
  });
  expect((await change(first, 'fog-owls')).statusCode).toBe(200);
});

test.each([
  ['64 characters with spaces, Greek and Chinese', 'δύο μικρές βάρκες '.repeat(3) + '水面上的兩艘小船 ab'],
  ['small letters alone', 'rowingupstream'],
])('a password of %s did not sign in', async (what, password) => {
  const { change, signIn } = await somebody(`long-${what.length}`);
  expect((await change(first, password)).statusCode).toBe(200);
  expect(await signIn(password)).toBe(200);
  expect(await signIn(first)).toBe(401);
});

test('two passwords that differ in their 73rd character, or in case, were one', async () => {
  const { change, signIn } = await somebody('exact');
  const long = 'abcdefghijkl'.repeat(6);
  expect((await change(first, `${long}x`)).statusCode).toBe(200);
  expect(await signIn(`${long}y`)).toBe(401);
  expect(await signIn(`${long}X`)).toBe(401);
  expect(await signIn(long)).toBe(401);
  expect(await signIn(`${long}x`)).toBe(200);
});

test('an old password was asked to change', async () => {
  const { person, signIn } = await somebody('old');
  await db.prisma.person.update({
    where: { id: person.id },
    data: { passwordChangedAt: new Date(2001, 1), createdAt: new Date(2001, 1) },
  });
  expect(await signIn(first)).toBe(200);
});

test('a password changed without the current one', async () => {
  const { change, signIn } = await somebody('current');
  expect((await change('not the current', 'eleven blue chairs')).statusCode).toBe(422);
  expect(await signIn('eleven blue chairs')).toBe(401);
  expect(await signIn(first)).toBe(200);
});

test('an unknown name was answered otherwise than a wrong password', async () => {
  await somebody('known');
  const timed = async (name: string) => {
    const began = performance.now();
    const answer = await signInAs(huelot, { name, password: 'not this one', address: '192.0.2.77' });
    return { tookMs: performance.now() - began, status: answer.statusCode, body: answer.body };
  };
  const known = [];
  const unknown = [];
  for (let count = 0; count < 5; count += 1) {
    known.push(await timed('known'));
    unknown.push(await timed('unknown'));
  }
  expect(known[0]?.status).toBe(401);
  for (const { status, body } of [...known, ...unknown])
    expect({ status, body }).toEqual({ status: known[0]?.status, body: known[0]?.body });
  // A hash takes tens of milliseconds, everything else a few: without it the answer would come many times faster.
  const fastest = (answers: { tookMs: number }[]) => Math.min(...answers.map(({ tookMs }) => tookMs));
  expect(fastest(unknown)).toBeGreaterThan(fastest(known) / 3);
});

test('a password was stored weaker than argon2id with 19 MiB and two passes', async () => {
  const { person, change } = await somebody('stored');
  await change(first, 'eleven blue chairs');
  const { passwordHash } = await db.prisma.person.findUniqueOrThrow({ where: { id: person.id } });
  const [, memory, passes, lanes] =
    /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=(\d+)\$/.exec(passwordHash ?? '') ?? [];
  expect(Number(memory)).toBeGreaterThanOrEqual(19_456);
  expect(Number(passes)).toBeGreaterThanOrEqual(2);
  expect(Number(lanes)).toBeGreaterThanOrEqual(1);
});
