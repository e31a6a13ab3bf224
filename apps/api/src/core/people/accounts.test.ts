import type { Person } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let huelot: TestApp;
let owner: Ask;
let person: Person;
beforeAll(async () => {
  huelot = await testApp();
  owner = await huelot.as('owner');
  const invited = await owner({
    method: 'POST',
    url: '/api/people',
    payload: { name: 'pat', displayName: 'Pat', email: '', roles: ['operator'] },
  });
  person = invited.json<{ person: Person }>().person;
});

const change = (displayName: string) =>
  owner({
    method: 'PUT',
    url: `/api/people/${person.id}`,
    headers: { 'if-match': `"${person.version}"` },
    payload: { displayName, email: '', roles: ['operator'], active: true },
  });

/** Until as many statements as this wait for a lock that another transaction holds. */
async function untilWaiting(statements: number): Promise<void> {
  for (;;) {
    const { rows } = await huelot.db.pool.query<{ waiting: number }>(
      `select count(*)::int as waiting from pg_stat_activity
        where datname = current_database() and wait_event_type = 'Lock'`,
    );
    if (rows[0]?.waiting === statements) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

test('of two edits of one person that meet, the second is told of the first', async () => {
  const holder = await huelot.db.pool.connect();
  try {
    await holder.query('begin');
    await holder.query('select "id" from "person" where "id" = $1 for update', [person.id]);
    const edits = Promise.all([change('Pat One'), change('Pat Two')]);
    await untilWaiting(2);
    await holder.query('commit');
    const answers = await edits;
    expect(answers.map(({ statusCode }) => statusCode).toSorted()).toEqual([200, 412]);
    const [kept, late] = answers.toSorted((one, other) => one.statusCode - other.statusCode);
    const saved = kept?.json<Person>();
    expect(late?.json()).toMatchObject({ current: { displayName: saved?.displayName, version: 2 } });
    const stands = (await owner({ url: `/api/people/${person.id}` })).json<Person>();
    expect(stands).toEqual(saved);
  } finally {
    holder.release();
  }
});

test('two owners who demoted each other at once left no owner', async () => {
  const [one, other] = await Promise.all([huelot.as('owner'), huelot.as('owner')]);
  await huelot.db.prisma.person.updateMany({
    where: { id: { notIn: [one.personId, other.personId] } },
    data: { roles: ['operator'] },
  });
  const demote = (ask: Ask, id: number) =>
    ask({
      method: 'PUT',
      url: `/api/people/${id}`,
      headers: { 'if-match': '"1"' },
      payload: { displayName: 'was an owner', email: '', roles: ['operator'], active: true },
    });
  const answers = await Promise.all([demote(one, other.personId), demote(other, one.personId)]);
  expect(answers.filter(({ statusCode }) => statusCode === 200)).toHaveLength(1);
  const owners = await huelot.db.prisma.person.count({ where: { active: true, roles: { has: 'owner' } } });
  expect(owners).toBe(1);
});

test('an owner who never joined counted as one who is left', async () => {
  const [one, other] = await Promise.all([huelot.as('owner'), huelot.as('owner')]);
  await huelot.db.prisma.person.updateMany({
    where: { id: { not: one.personId } },
    data: { passwordHash: null },
  });
  await huelot.db.prisma.person.update({ where: { id: other.personId }, data: { roles: ['owner'] } });
  const off = await other({
    method: 'PUT',
    url: `/api/people/${one.personId}`,
    headers: { 'if-match': '"1"' },
    payload: { displayName: 'one', email: '', roles: ['owner'], active: false },
  });
  expect(off.statusCode).toBe(409);
  expect(off.json()).toMatchObject({ code: 'conflict' });
});
