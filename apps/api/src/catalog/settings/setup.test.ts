import type { NumberSeries, Shop } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { nextNumber } from '../../db/numbers.ts';
import { inTransaction } from '../../db/client.ts';

let app: TestApp;
let owner: Ask;
let planner: Ask;
beforeAll(async () => {
  app = await testApp();
  owner = await app.as('owner');
  planner = await app.as('planner');
});

const facts = {
  name: 'Shop',
  address: '1 Street',
  contact: 'shop@example.com',
  timeZone: 'Europe/Vienna',
  units: 'metric',
  currency: 'EUR',
  quotationValidityDays: 30,
  leadTimeDays: 10,
  terms: '30 days net',
  retentionYears: 10,
};
const change = (version: number, payload: object, ask = owner) =>
  ask({ method: 'PUT', url: '/api/shop', headers: { 'if-match': `"${version}"` }, payload });

describe('the shop', () => {
  it('is changed by an owner and read by all', async () => {
    const reply = await change(1, facts);
    expect(reply.json()).toEqual({ ...facts, version: 2 });
    expect((await planner({ url: '/api/shop' })).json<Shop>().terms).toBe('30 days net');
    expect((await change(2, facts, planner)).statusCode).toBe(403);
    const history = await owner({ url: '/api/history/shop/1' });
    expect(history.json<{ items: { changes: unknown[] }[] }>().items[0]?.changes).toContainEqual({
      field: 'timeZone',
      old: 'UTC',
      new: 'Europe/Vienna',
    });
  });

  it('refuses a stale edit and shows what stands', async () => {
    const late = await change(1, { ...facts, name: 'Other' });
    expect(late.statusCode).toBe(412);
    expect(late.json()).toMatchObject({ current: { name: 'Shop', version: 2 } });
    const missing = await owner({ method: 'PUT', url: '/api/shop', payload: facts });
    expect(missing.statusCode).toBe(428);
  });

  it.each([
    [{ timeZone: 'Mars/Olympus' }, 'timeZone'],
    [{ currency: 'euro' }, 'currency'],
    [{ quotationValidityDays: 0 }, 'quotationValidityDays'],
    [{ retentionYears: 1.5 }, 'retentionYears'],
    [{ name: ' ' }, 'name'],
  ])('refuses %j, naming the field', async (fault, path) => {
    const reply = await change(2, { ...facts, ...fault });
    expect(reply.statusCode).toBe(422);
    expect(reply.json()).toMatchObject({ issues: [{ path }] });
  });
});

describe('numbering', () => {
  const set = (kind: string, payload: object, ask = owner) =>
    ask({ method: 'PUT', url: `/api/number-series/${kind}`, payload });
  const take = () => inTransaction(app.db, (tx) => nextNumber(tx.execute, 'lot'));

  it('shows the number that comes next', async () => {
    const { items } = (await owner({ url: '/api/number-series' })).json<{ items: NumberSeries[] }>();
    expect(items.map(({ kind }) => kind).sort()).toEqual([
      'addition',
      'analysis',
      'bath',
      'certificate',
      'credit-note',
      'customer',
      'customer-letter',
      'delivery-note',
      'enquiry',
      'exposure-test',
      'film-measurement',
      'impact-assessment',
      'invoice',
      'lot',
      'nonconformance',
      'order',
      'polarization-scan',
      'quotation',
      'recipe',
      'shipment',
      'traveler',
      'trial-run',
    ]);
    expect(items.find(({ kind }) => kind === 'lot')).toEqual({
      kind: 'lot',
      prefix: 'L-',
      digits: 5,
      next: 1,
      sample: 'L-00001',
    });
    expect((await planner({ url: '/api/number-series' })).statusCode).toBe(403);
  });

  it('only rises, and what it shows is what is given', async () => {
    const reply = await set('lot', { prefix: 'LOT/', digits: 3, next: 998 });
    expect(reply.json()).toMatchObject({ sample: 'LOT/998' });
    expect(await take()).toBe('LOT/998');
    expect(await take()).toBe('LOT/999');
    expect(await take()).toBe('LOT/1000');
    const back = await set('lot', { prefix: 'LOT/', digits: 3, next: 1000 });
    expect(back.statusCode).toBe(422);
    expect(back.json()).toMatchObject({ issues: [{ path: 'next' }] });
    await expect(
      app.db.prisma.numberSeries.update({ where: { kind: 'lot' }, data: { next: 5 } }),
    ).rejects.toThrow(/only rise/);
  });

  it('keeps prefixes apart and readable', async () => {
    for (const prefix of ['O-', 'o-', 'L1', '', 'L O-', 'LOTNUMBERS-']) {
      const reply = await set('lot', { prefix, digits: 5, next: 2000 });
      expect(reply.statusCode, prefix).toBe(422);
      expect(reply.json(), prefix).toMatchObject({ issues: [{ path: 'prefix' }] });
    }
    expect((await set('nothing', { prefix: 'X-', digits: 5, next: 1 })).statusCode).toBe(422);
    expect((await set('lot', { prefix: 'X-', digits: 5, next: 2000 }, planner)).statusCode).toBe(403);
  });
});

describe('the audit trail', () => {
  it('comes newest first, also where numbers of entries get longer, and pages without a gap', async () => {
    for (let next = 3000; next < 3012; next += 1) {
      await owner({
        method: 'PUT',
        url: '/api/number-series/traveler',
        payload: { prefix: 'T-', digits: 5, next },
      });
    }
    const auditor = await app.as('quality');
    const ids: number[] = [];
    let after = '';
    do {
      const reply = await auditor({ url: `/api/audit?limit=5&after=${after}` });
      const page = reply.json<{ items: { id: string }[]; next: string | null }>();
      ids.push(...page.items.map(({ id }) => Number(id)));
      after = page.next ?? '';
    } while (after !== '');
    expect(ids.length).toBeGreaterThan(12);
    expect(ids).toEqual([...new Set(ids)].sort((one, other) => other - one));
    expect(
      (await owner({ url: '/api/history/shop/1' })).json<{ items: { changes: unknown[] }[] }>().items[0],
    ).toMatchObject({
      action: 'changed the numbering',
      changes: [{ field: 'traveler next', old: 3010, new: 3011 }],
    });
    expect((await planner({ url: '/api/audit' })).statusCode).toBe(403);
  });
});
