import type { Customer } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let huelot: TestApp;
let ask: Ask;
let materialId: number;
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('planner');
  const material = await huelot.db.prisma.material.create({
    data: {
      name: 'Titanium grade 2',
      baseMetal: 'titanium',
      densityKgPerM3: 4506,
      heatCapacityJPerKgK: 524,
      source: 'test',
      evidence: 'P',
    },
  });
  materialId = material.id;
});

const contact = { name: 'Ida Holm', role: '', email: '', phone: '' };
const add = async (name: string, extra: object = {}): Promise<Customer> =>
  (
    await ask({
      method: 'POST',
      url: '/api/customers',
      payload: {
        name,
        currency: 'EUR',
        taxNumber: '',
        taxRatePercent: 0,
        terms: '',
        notes: '',
        contacts: [contact],
        addresses: [],
        ...extra,
      },
    })
  ).json();
const merge = (from: Customer, intoId: number, version = from.version) =>
  ask({
    method: 'POST',
    url: `/api/customers/${from.id}/merge`,
    headers: { 'if-match': `"${version}"` },
    payload: { intoId, reason: 'entered twice' },
  });
const read = async (id: number): Promise<Customer> => (await ask({ url: `/api/customers/${id}` })).json();
const addPart = (customerId: number, number: string) =>
  huelot.db.prisma.part.create({
    data: {
      customerId,
      number,
      revision: 'A',
      materialId,
      geometryKind: 'typed',
      geometry: {},
      areaMm2: 100,
      electricalAreaMm2: 100,
      coatedAreaMm2: 100,
      areaMethod: 'typed',
      areaFoundById: 1,
      areaFoundAt: new Date(),
    },
  });

test('parts, quotations, orders and contacts move, and the duplicate points to the one that stays', async () => {
  const { prisma } = huelot.db;
  const stays = await add('Kestrel');
  const other = { ...contact, name: 'Per Lund' };
  const twin = await add('Kestrel Ltd', { contacts: [contact, other], taxNumber: 'X1' });
  const oldTwin = await add('Kestrel (old)');
  expect((await merge(oldTwin, twin.id)).statusCode).toBe(200);
  await addPart(stays.id, 'K-1');
  const clash = await addPart(twin.id, 'K-1');
  const moved = await addPart(twin.id, 'K-2');
  await prisma.quotation.create({ data: { number: 'Q-90001', customerId: twin.id, createdById: 1 } });
  await prisma.order.create({
    data: { number: 'O-90001', customerId: twin.id, currency: 'EUR', createdById: 1 },
  });

  const answer = await merge(await read(twin.id), stays.id);
  expect(answer.statusCode, answer.body).toBe(200);
  expect(answer.json()).toMatchObject({
    id: stays.id,
    taxNumber: 'X1',
    partCount: 3,
    quotationCount: 1,
    orderCount: 1,
    contacts: [contact, other],
  });
  const parts = await prisma.part.findMany({ where: { customerId: stays.id }, orderBy: { id: 'asc' } });
  expect(parts.map(({ id, number }) => [id, number]).slice(1)).toEqual([
    [clash.id, `K-1 (${twin.number})`],
    [moved.id, 'K-2'],
  ]);
  for (const id of [twin.id, oldTwin.id]) {
    const pointer = await read(id);
    expect(pointer.mergedInto).toEqual({ id: stays.id, number: stays.number, name: 'Kestrel' });
    expect(pointer.archivedAt).not.toBeNull();
  }
  const history = await prisma.auditEntry.findMany({ where: { reason: 'entered twice' } });
  expect(history.filter(({ recordKind }) => recordKind === 'part')).toHaveLength(2);
  expect(history.filter(({ recordKind }) => recordKind === 'order')).toHaveLength(1);
});

test('a merge with itself, into an archived customer, or from an old version is refused and moves nothing', async () => {
  const one = await add('One');
  const two = await add('Two');
  await addPart(one.id, 'P');
  expect((await merge(one, one.id)).json()).toMatchObject({ status: 422, issues: [{ path: 'intoId' }] });
  expect((await merge(one, 999_999)).statusCode).toBe(404);
  expect((await merge(one, two.id, 7)).statusCode).toBe(412);
  await ask({ method: 'POST', url: `/api/customers/${two.id}/archive` });
  expect((await merge(one, two.id)).json()).toMatchObject({ status: 422, issues: [{ path: 'intoId' }] });
  expect((await read(one.id)).partCount).toBe(1);
});

test('a merged customer stays as it is', async () => {
  const stays = await add('Stays');
  const gone = await add('Gone');
  await merge(gone, stays.id);
  const { version, ...facts } = await read(gone.id);
  const change = await ask({
    method: 'PUT',
    url: `/api/customers/${gone.id}`,
    headers: { 'if-match': `"${version}"` },
    payload: {
      name: 'Back again',
      currency: facts.currency,
      taxNumber: '',
      taxRatePercent: 0,
      terms: '',
      notes: '',
      contacts: [],
      addresses: [],
    },
  });
  expect(change.json()).toMatchObject({ status: 409, code: 'immutable' });
  const back = await ask({ method: 'POST', url: `/api/customers/${gone.id}/unarchive` });
  expect(back.json()).toMatchObject({ status: 409, code: 'immutable' });
  expect((await merge(await read(gone.id), stays.id)).json()).toMatchObject({
    status: 409,
    code: 'immutable',
  });
});
