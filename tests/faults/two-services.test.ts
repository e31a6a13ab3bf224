import { randomUUID } from 'node:crypto';
import path from 'node:path';
import { Role, type Customer, type Order } from '@huelot/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { openDatabase } from '../../apps/api/src/db/client.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { readKeys, verifyChain } from '../../apps/api/src/core/hash-chain/index.ts';
import { recover } from '../../apps/api/src/core/people/index.ts';
import { addPersonWith } from '../support/people.ts';
import { temporaryFolder } from './places.ts';
import { Service } from './service.ts';
import { customer, prepareFloor, signInAnew, signStep } from './shop.ts';

/** What `work` gives when asked that many times at once. */
const times = <T>(count: number, work: (index: number) => Promise<T>): Promise<T[]> =>
  Promise.all(Array.from({ length: count }, (_, index) => work(index)));

/** How many answers there were of each status. */
const tally = (answers: { status: number }[]): Record<number, number> => {
  const counts: Record<number, number> = {};
  for (const { status } of answers) counts[status] = (counts[status] ?? 0) + 1;
  return counts;
};

test('two services on one database share numbers, signatures, edits, limits and one-time links', async () => {
  const dataDir = temporaryFolder();
  const floor = await prepareFloor(dataDir, 10);
  const embedded = await startEmbedded({ dataDir });
  onTestFinished(() => embedded.stop());
  const db = openDatabase({ connectionString: embedded.connectionString, max: 2 });
  const env = {
    DATABASE_URL: embedded.serviceConnectionString,
    HUELOT_OWNER_URL: embedded.connectionString,
    HUELOT_CHAIN_KEY_FILE: path.join(dataDir, 'chain.key'),
  };
  const services = await times(2, () => Service.start({ env }));
  const [first, second] = services;
  if (first === undefined || second === undefined) throw new Error('both were started');
  const serviceOf = (index: number) => (index % 2 === 0 ? first : second);
  const cookie = await signInAnew(db, { name: 'everybody', roles: Role.options });
  const send = (index: number, request: { method: string; path: string; body: object; version?: number }) =>
    fetch(serviceOf(index).url + request.path, {
      method: request.method,
      headers: {
        'content-type': 'application/json',
        cookie,
        ...(request.version === undefined ? {} : { 'if-match': `"${request.version}"` }),
      },
      body: JSON.stringify(request.body),
    });

  const line = await db.prisma.orderLine.findFirstOrThrow();
  const { partId, recipeRevisionId, rackId, supplyId } = line;
  const facts = { partId, recipeRevisionId, rackId, supplyId, quantity: 2, totalPrice: '10.00' };
  const { id: customerId } = await db.prisma.customer.findFirstOrThrow();
  const orders = await times(30, async (index) => {
    const lines = [{ ...facts, dueDate: '2099-01-15', certificate: false, inspectionLevel: '', notes: '' }];
    const body = { customerId, customerOrderNumber: `${index}`, notes: '', lines };
    const answer = await send(index, { method: 'POST', path: '/api/orders', body });
    expect(answer.status, await answer.clone().text()).toBe(201);
    return (await answer.json()) as Order;
  });
  const numbers = orders.map(({ number }) => Number(number.replace(/\D/g, ''))).sort((a, b) => a - b);
  expect(numbers).toEqual(numbers.map((_, index) => (numbers[0] ?? 0) + index));

  const key = randomUUID();
  const resends = await times(20, (index) =>
    fetch(`${serviceOf(index).url}/api/customers`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie, 'idempotency-key': key },
      body: JSON.stringify(customer('sent twenty times')),
    }),
  );
  expect(Object.keys(tally(resends)).filter((status) => !['201', '409'].includes(status))).toEqual([]);
  const told = await Promise.all(resends.filter(({ status }) => status === 201).map((one) => one.text()));
  expect(new Set(told).size).toBe(1);
  expect(await db.prisma.customer.count({ where: { name: 'sent twenty times' } })).toBe(1);

  const before = await db.prisma.stepSignOff.count();
  const signatures = await times(40, (index) => {
    const signOff = floor.signOffs[index % 10];
    return signStep(serviceOf(Math.floor(index / 10)), {
      cookie: floor.cookie,
      signOff: signOff && { ...signOff, key: randomUUID() },
    });
  });
  expect(tally(signatures)).toEqual({ 201: 10, 409: 30 });
  expect(await db.prisma.stepSignOff.count()).toBe(before + 10);

  const made = await send(0, { method: 'POST', path: '/api/customers', body: customer('edited') });
  const { id, version } = (await made.json()) as Customer;
  const edits = await times(20, (index) =>
    send(index, {
      method: 'PUT',
      path: `/api/customers/${id}`,
      body: customer(`edited ${index}`),
      version,
    }),
  );
  expect(tally(edits)).toEqual({ 200: 1, 412: 19 });

  await addPersonWith(db, { name: 'victim', password: 'seven grey herons', roles: ['owner'] });
  const { url } = await recover(db, { name: 'victim' });
  const body = { password: 'eleven blue chairs' };
  const address = url.replace('/invitation/', '/api/invitations/');
  const uses = await times(10, (index) => send(index, { method: 'POST', path: address, body }));
  expect(tally(uses)[200]).toBe(1);

  const guesses = await times(40, (index) =>
    send(index, {
      method: 'POST',
      path: '/api/sign-in',
      body: { name: 'victim', password: `guess ${index}` },
    }),
  );
  expect(tally(guesses)).toEqual({ 401: 10, 429: 30 });

  for (const service of services) expect(await service.stop()).toBe(0);
  const keys = readKeys(env.HUELOT_CHAIN_KEY_FILE);
  if (keys === null) throw new Error('the services made no key');
  const chained = await db.prisma.chainLink.count({ where: { tableName: 'audit_entry' } });
  expect(chained).toBe(await db.prisma.auditEntry.count());
  expect(await db.prisma.chainQueue.count()).toBe(0);
  expect(await verifyChain(db, { keys })).toMatchObject({ whole: true, faults: [] });
  await db.close();
});
