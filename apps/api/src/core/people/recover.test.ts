import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, signInAs } from '../../../../../tests/support/people.ts';
import { recover } from './recover.ts';

const huelot = await testApp();
const { app, db } = huelot;
const password = 'seven grey herons';

const use = (url: string, fresh: string) =>
  app.inject({
    method: 'POST',
    url: url.replace('/invitation/', '/api/invitations/'),
    payload: { password: fresh },
  });

test('a lone owner who forgot the password was locked out for good', async () => {
  await addPersonWith(db, { name: 'lone', password, roles: ['owner'] });
  const { url, madeOwner } = await recover(db, { name: 'LONE' });
  expect(madeOwner).toBe(false);
  expect((await use(url, 'eleven blue chairs')).statusCode).toBe(200);
  expect((await signInAs(huelot, { name: 'lone', password: 'eleven blue chairs' })).statusCode).toBe(200);
  expect((await use(url, 'twelve blue chairs')).statusCode).toBe(404);
  const actions = (await db.prisma.auditEntry.findMany({ orderBy: { id: 'asc' } })).map(
    ({ personName, action }) => `${personName} ${action}`,
  );
  expect(actions).toContain('the server issued a recovery link for');
  expect(actions).toContain('nobody chose a password with a one-time recovery link');
});

test('a shop that no owner was left in could be opened again only by SQL', async () => {
  await db.prisma.person.updateMany({ data: { roles: ['operator'], active: false } });
  const { madeOwner } = await recover(db, { name: 'lone' });
  expect(madeOwner).toBe(true);
  const lone = await db.prisma.person.findFirstOrThrow({ where: { name: 'lone' } });
  expect(lone).toMatchObject({ active: true, roles: ['operator', 'owner'] });
});

test('a name that nobody has is said, and nothing is made', async () => {
  await expect(recover(db, { name: 'no%e' })).rejects.toThrow('There is no person called no%e.');
  expect(await db.prisma.oneTimeLink.count({ where: { kind: 'recovery', usedAt: null } })).toBe(1);
});
