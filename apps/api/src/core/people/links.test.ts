import { expect, test } from 'vitest';
import { testApp } from '../../../../../tests/support/app.ts';
import { addPersonWith, cookiesOf, signInAs } from '../../../../../tests/support/people.ts';

const huelot = await testApp();
const { app, db } = huelot;
const password = 'seven grey herons';

/** An owner's link for somebody, and what it is like to use it. */
async function linkFor(name: string) {
  const person = await addPersonWith(db, { name, password });
  const owner = await huelot.as('owner');
  const answer = await owner({ method: 'POST', url: `/api/people/${person.id}/link` });
  const { url, expiresAt } = answer.json<{ url: string; expiresAt: string }>();
  const token = url.slice(url.lastIndexOf('/') + 1);
  const use = (fresh: string) =>
    app.inject({ method: 'POST', url: `/api/invitations/${token}`, payload: { password: fresh } });
  return { person, owner, token, expiresAt, use };
}

test('a one-time link worked twice, for two at once, or after its time', async () => {
  const { person, token, expiresAt, use } = await linkFor('once');
  expect(Buffer.from(token, 'base64url').length).toBeGreaterThanOrEqual(16);
  expect(Date.parse(expiresAt) - Date.now()).toBeLessThanOrEqual(7 * 24 * 3_600_000);
  const both = await Promise.all([use('eleven blue chairs'), use('twelve blue chairs')]);
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 404]);
  expect((await use('eleven blue chairs')).statusCode).toBe(404);

  const late = await linkFor('late');
  await db.prisma.oneTimeLink.updateMany({
    where: { personId: late.person.id },
    data: { expiresAt: new Date(Date.now() - 1000) },
  });
  expect((await late.use('eleven blue chairs')).statusCode).toBe(404);
  expect((await signInAs(huelot, { name: 'late', password })).statusCode).toBe(200);
  expect(await db.prisma.oneTimeLink.count({ where: { personId: person.id, usedAt: null } })).toBe(0);
});

test('an owner saw or set the password that somebody uses', async () => {
  const { person, owner, use } = await linkFor('private');
  const chosen = await use('eleven blue chairs');
  expect(cookiesOf(chosen)).toContain('huelot=');
  const set = await owner({
    method: 'PUT',
    url: `/api/people/${person.id}`,
    headers: { 'if-match': `"${person.version}"` },
    payload: { displayName: 'x', email: '', roles: ['operator'], active: true, password: 'owner-chosen-1' },
  });
  expect(set.statusCode).toBe(422);
  expect((await signInAs(huelot, { name: 'private', password: 'eleven blue chairs' })).statusCode).toBe(200);
  for (const url of [`/api/people/${person.id}`, '/api/people', '/api/audit'])
    expect((await owner({ url })).body, url).not.toMatch(/argon2|eleven blue|passwordHash/);
});
