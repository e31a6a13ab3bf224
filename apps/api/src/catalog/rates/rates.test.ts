import type { FamilyRates, RateCard, Rates } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

let app: TestApp;
let owner: Ask;
let estimator: Ask;
beforeAll(async () => {
  app = await testApp();
  owner = await app.as('owner');
  estimator = await app.as('estimator');
});

const family: FamilyRates = {
  linePerHour: 46,
  heatingKw: 0,
  rinseLPerLoad: 60,
  reworkShare: 0.04,
  stripPerM2: 9,
  chemical: {
    consumptionGPerM2: 5,
    pricePerKg: 3.5,
    dragOutLPerM2: 0.16,
    concentrationGPerL: 30,
    recoveryShare: 0,
  },
};
const rates: Rates = {
  labourPerHour: 32,
  energyPerKwh: 0.24,
  waterPerM3: 4.2,
  wastePerM3: 9.5,
  overheadShare: 0.22,
  overheadPerLabourHour: 0,
  marginShare: 0.3,
  minimumLot: 120,
  expediteShare: 0.25,
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  masking: { timeS: 40, materialCost: 0.12 },
  charges: { certificateCost: 18, packingCost: 7.5 },
  quantityBreaks: [25, 120, 480],
  families: { 'interference-colour': family, 'caustic-colour': family, 'dyed-anodize': family },
};
const put = (fromRevision: number, changed: Partial<Rates> = {}, ask = owner) =>
  ask({
    method: 'POST',
    url: '/api/rate-cards',
    payload: { fromRevision, note: 'yearly review', rates: { ...rates, ...changed } },
  });

describe('rate cards', () => {
  it('start with none, then take effect one after the other', async () => {
    expect((await estimator({ url: '/api/rate-cards/current' })).json()).toEqual({
      card: null,
      before: null,
    });
    const first = await put(0);
    expect(first.statusCode).toBe(201);
    expect(first.json()).toMatchObject({ revision: 1, current: true, rates });
    const second = await put(1, { labourPerHour: 34 });
    expect(second.json()).toMatchObject({ revision: 2, rates: { labourPerHour: 34 } });
    const current = (await estimator({ url: '/api/rate-cards/current' })).json<{
      card: RateCard;
      before: RateCard;
    }>();
    expect([current.card.revision, current.before.revision]).toEqual([2, 1]);
    expect(current.before.current).toBe(false);
    const list = (await estimator({ url: '/api/rate-cards' })).json<{ items: RateCard[] }>();
    expect(list.items.map(({ revision, current: now }) => [revision, now])).toEqual([
      [2, true],
      [1, false],
    ]);
    const one = await estimator({ url: `/api/rate-cards/${first.json<RateCard>().id}` });
    expect(one.json()).toMatchObject({ card: { revision: 1, current: false }, before: null });
  });

  it('are refused when another came into force meanwhile, showing it', async () => {
    const late = await put(1, { labourPerHour: 35 });
    expect(late.statusCode).toBe(412);
    expect(late.json()).toMatchObject({ current: { revision: 2, rates: { labourPerHour: 34 } } });
  });

  it('come into force once when two are put at the same moment', async () => {
    const both = await Promise.all([put(2, { labourPerHour: 36 }), put(2, { labourPerHour: 37 })]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 412]);
  });

  it('are refused when nothing differs', async () => {
    const { card } = (await owner({ url: '/api/rate-cards/current' })).json<{ card: RateCard }>();
    const same = await put(3, card.rates);
    expect(same.statusCode).toBe(422);
    expect(same.json()).toMatchObject({ issues: [{ path: 'rates' }] });
  });

  it.each([
    [{ marginShare: 1 }, 'rates.marginShare'],
    [{ labourPerHour: -1 }, 'rates.labourPerHour'],
    [{ quantityBreaks: [25, 25] }, 'rates.quantityBreaks.1'],
    [{ quantityBreaks: [] }, 'rates.quantityBreaks'],
    [
      { families: { ...rates.families, 'dyed-anodize': { ...family, reworkShare: 1 } } },
      'rates.families.dyed-anodize.reworkShare',
    ],
  ])('are refused with %j, naming the field', async (change, path) => {
    const reply = await put(3, change);
    expect(reply.statusCode).toBe(422);
    expect(reply.json<{ issues: { path: string }[] }>().issues.map((issue) => issue.path)).toContain(path);
  });

  it('are seen and set only by those who may, the audit trail included', async () => {
    for (const role of ['planner', 'operator', 'lab', 'quality'] as const) {
      const ask = await app.as(role);
      for (const url of [
        '/api/rate-cards',
        '/api/rate-cards/current',
        '/api/rate-cards/1',
        '/api/history/rate-card/1',
      ]) {
        expect((await ask({ url })).statusCode, `${role} ${url}`).toBe(403);
      }
    }
    expect((await put(3, { labourPerHour: 40 }, estimator)).statusCode).toBe(403);
    const audit = await (await app.as('quality'))({ url: '/api/audit?kind=rate-card' });
    expect(audit.body).toContain('put in force');
    expect(audit.body).not.toContain('labourPerHour');
  });

  it('stay as they were, in the database too', async () => {
    await expect(
      app.db.prisma.rateCard.update({ where: { revision: 1 }, data: { note: 'touched' } }),
    ).rejects.toThrow(/rate card/);
  });
});
