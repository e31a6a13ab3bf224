import type { Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { endpoints, addressOf } from '../support/endpoints.ts';
import { leastBody } from '../support/least-body.ts';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';
import { addPersonWith, cookiesOf, signInAs } from '../support/people.ts';
import { unaudited } from '../support/unaudited.ts';

const huelot = await mainLine();
const { app, db, as, operator, quality, releasedLots, opened } = huelot;
const password = 'seven grey herons';
const isWrite = new Map(endpoints.map(([name, { method }]) => [name, method !== 'GET']));

const actionsOf = async (personId: number) => {
  const entries = await db.prisma.auditEntry.findMany({ where: { personId }, orderBy: { id: 'asc' } });
  return entries.map(({ action }) => action);
};

test('a write that leaves no entry says why', () => {
  for (const [name, why] of Object.entries(unaudited)) {
    expect(isWrite.get(name), name).toBe(true);
    expect(why.length, name).toBeGreaterThan(15);
  }
});

test('signing out, signing out everywhere and ending one sign-in left no entry', async () => {
  const person = await addPersonWith(db, { name: 'leaver', password });
  const enter = async () => ({ cookie: cookiesOf(await signInAs(huelot, { name: 'leaver', password })) });
  const send = (headers: { cookie: string }, request: { method: 'POST' | 'DELETE'; url: string }) =>
    app.inject({ ...request, headers, payload: {} });
  const [first, second] = [await enter(), await enter()];
  const { items } = (await app.inject({ url: '/api/me/sign-ins', headers: second })).json<{
    items: { id: number; current: boolean }[];
  }>();
  const other = items.find(({ current }) => !current)?.id ?? 0;
  expect((await send(second, { method: 'DELETE', url: `/api/me/sign-ins/${other}` })).statusCode).toBe(200);
  expect((await send(first, { method: 'POST', url: '/api/sign-out' })).statusCode).toBe(401);
  expect((await send(second, { method: 'POST', url: '/api/sign-out' })).statusCode).toBe(200);
  expect((await send(await enter(), { method: 'POST', url: '/api/sign-out-everywhere' })).statusCode).toBe(
    200,
  );
  expect(await actionsOf(person.id)).toEqual([
    ...['signed in', 'signed in', 'ended another sign-in of', 'signed out', 'signed in'],
    'signed out everywhere',
  ]);
});

test('a person who changed how figures are shown, the password or the PIN left no entry', async () => {
  const { id } = await addPersonWith(db, { name: 'changer', password });
  const headers = { cookie: cookiesOf(await signInAs(huelot, { name: 'changer', password })) };
  const put = (url: string, payload: object) => app.inject({ method: 'PUT', url, headers, payload });
  const answers = [
    await put('/api/me/preferences', { units: 'us', theme: 'dark' }),
    await put('/api/me/pin', { password, pin: '4711' }),
    await put('/api/me/password', { current: password, password: 'eleven blue chairs' }),
  ];
  expect(answers.map(({ statusCode }) => statusCode)).toEqual([200, 200, 200]);
  expect(await actionsOf(id)).toEqual([
    ...['signed in', 'changed the preferences of', 'set the PIN', 'changed the password'],
  ]);
  const { changes } = await db.prisma.auditEntry.findFirstOrThrow({
    where: { personId: id, action: 'changed the preferences of' },
  });
  expect(changes).toContainEqual({ field: 'units', old: 'metric', new: 'us' });
});

test('people invited and links made left no entry', async () => {
  const owner = await as('owner');
  const invited = await ok<{ person: { id: number } }>(
    post(owner, '/people', { name: 'newcomer', displayName: 'New', email: '', roles: ['operator'] }),
    201,
  );
  await ok(post(owner, `/people/${invited.person.id}/link`, {}), 201);
  await ok(post(owner, '/me/calendar-feeds', {}), 201);
  expect(await actionsOf(owner.personId)).toEqual([
    'signed in',
    'invited',
    'issued a one-time link for',
    'made a secret calendar address',
  ]);
});

test('a hold that a correction set was in no entry', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  const { steps } = await opened(lotId);
  const signed = await ok<Traveler>(
    post(operator, `/steps/${steps[0]?.id}/sign-off`, signOff(24, good[1] ?? [])),
    201,
  );
  const id = signed.steps[0]?.signOff?.id ?? 0;
  const body = { quantity: 'temperatureC', newValue: 71, reason: 'thermometer read wrong' };
  const corrected = await ok<Traveler>(post(quality, `/sign-offs/${id}/corrections`, body), 201);
  expect(corrected.lot.held).toBe(true);
  const entries = await db.prisma.auditEntry.findMany({ where: { recordKind: 'lot', recordId: lotId } });
  const hold = entries.find(({ action }) => action === 'put on hold');
  expect(hold?.reason).toMatch(/temperature corrected to 71 °C, outside/);
});

// Last, because it writes everything that it can.
// Whoever sends it (`as` of the test app) looks for the entry of every write that was carried out.
test('what may be written with the least that a contract allows was written without an entry', async () => {
  const carriedOut: string[] = [];
  for (const [name, endpoint] of endpoints) {
    if (endpoint.method === 'GET' || endpoint.keyless !== null || name === 'uploadFile') continue;
    // Nothing is archived here: the tests of each domain put back what they archived.
    if (name.startsWith('unarchive')) continue;
    const more = /^(create|update)Method$/.test(name) ? { kind: 'appearance' } : {};
    const payload = (name === 'setChartBaseline' ? {} : leastBody(endpoint, more)) as object;
    // What has no number in its address does nothing the second time.
    for (const id of endpoint.path.includes(':') ? ['1', '2'] : ['1']) {
      const everybody = await as('owner', 'estimator', 'planner', 'operator', 'lab', 'quality');
      const url = addressOf(endpoint, id).replace('/number-series/part', '/number-series/order');
      const headers = { 'if-match': '"1"' };
      const answer = await everybody({ method: endpoint.method, url, headers, payload });
      expect(answer.statusCode, `${name}: ${answer.body}`).toBeLessThan(500);
      if (answer.statusCode < 300) carriedOut.push(name);
    }
  }
  expect(new Set(carriedOut).size).toBeGreaterThan(20);
}, 120_000);
