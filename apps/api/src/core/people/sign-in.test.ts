import { hash } from '@node-rs/argon2';
import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';

const password = 'seven grey herons';
const huelot = await testApp();
const { app, db } = huelot;

test('a pattern in the name signed in as somebody else', async () => {
  await addPersonWith(db, { name: 'victim', password });
  for (const name of ['vic%', 'victi_', '%', 'v\\ictim', '______']) {
    expect((await signInAs(huelot, { name, password })).statusCode, name).toBe(401);
  }
  const upper = await signInAs(huelot, { name: 'VicTim', password });
  expect(upper.json()).toMatchObject({ person: { name: 'victim' } });
});

test('an underscore in a name stood for any letter', async () => {
  await addPersonWith(db, { name: 'zyz9', password: 'four green doors' });
  await addPersonWith(db, { name: 'z_z9', password: 'nine white boats' });
  const own = await signInAs(huelot, { name: 'z_z9', password: 'nine white boats' });
  expect(own.json()).toMatchObject({ person: { name: 'z_z9' } });
  expect((await signInAs(huelot, { name: 'z_z9', password: 'four green doors' })).statusCode).toBe(401);
  const owner = await huelot.as('owner');
  const invite = (name: string) =>
    owner({
      method: 'POST',
      url: '/api/people',
      payload: { name, displayName: name, email: '', roles: ['operator'] },
    });
  expect((await invite('zy_9')).statusCode).toBe(201);
  expect((await invite('ZYZ9')).json()).toMatchObject({
    issues: [{ path: 'name', message: 'is already in use' }],
  });
});

test('the sign-in of before stayed alive after signing in again', async () => {
  await addPersonWith(db, { name: 'again', password });
  const first = cookiesOf(await signInAs(huelot, { name: 'again', password }));
  const second = cookiesOf(await signInAs(huelot, { name: 'again', password, cookie: first }));
  const me = (cookie: string) => app.inject({ url: '/api/me', headers: { cookie } });
  expect((await me(first)).statusCode).toBe(401);
  expect((await me(second)).statusCode).toBe(200);
});

test('a hash with weaker parameters stayed as it was when its password was given', async () => {
  const person = await addPersonWith(db, { name: 'older', password });
  const weak = await hash(password, {
    algorithm: 2,
    memoryCost: 8192,
    timeCost: 1,
    parallelism: 1,
  });
  await db.prisma.person.update({ where: { id: person.id }, data: { passwordHash: weak } });
  await signInAs(huelot, { name: 'older', password: 'not the password' });
  const stored = async () =>
    (await db.prisma.person.findUniqueOrThrow({ where: { id: person.id } })).passwordHash;
  expect(await stored()).toBe(weak);
  expect((await signInAs(huelot, { name: 'older', password })).statusCode).toBe(200);
  expect(await stored()).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  expect((await signInAs(huelot, { name: 'older', password })).statusCode).toBe(200);
});

test('sign-ins and links that ended long ago were kept for ever', async () => {
  const person = await addPersonWith(db, { name: 'swept', password });
  await db.prisma.signIn.create({
    data: {
      personId: person.id,
      tokenHash: Buffer.alloc(32),
      address: '',
      agent: '',
      lastSeenAt: new Date(2020, 1),
    },
  });
  await db.prisma.oneTimeLink.create({
    data: {
      personId: person.id,
      kind: 'password',
      tokenHash: Buffer.alloc(32),
      expiresAt: new Date(2020, 1),
    },
  });
  await signInAs(huelot, { name: 'swept', password });
  expect(await db.prisma.signIn.count({ where: { personId: person.id } })).toBe(1);
  expect(await db.prisma.oneTimeLink.count({ where: { personId: person.id } })).toBe(0);
});
