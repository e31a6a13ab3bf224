import type { lookBack, Lot } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

type Found = z.output<typeof lookBack.reply>;
const { db, as, shop, planner, operator, quality, releasedLots, signAll } = await mainLine();
const lab = await as('lab');
const ask = (query: Record<string, string>, person = quality) =>
  person({ url: `/api/look-back?${new URLSearchParams(query).toString()}` });
const found = (query: Record<string, string>) => ok<Found>(ask(query));
const lotsOf = async (query: Record<string, string>) => (await found(query)).items.map(({ id }) => id);
const tiesOf = async (query: Record<string, string>, lotId: number) =>
  (await found(query)).items.find(({ id }) => id === lotId)?.ties.map(({ label }) => label);

let number = 0;
let methodId: number;
let bathId: number;
const instrument = (code: string) =>
  db.prisma.instrument.create({ data: { code, name: 'pH meter', kind: 'ph-meter' } });
/** An analysis whose sample is taken now. */
const analysed = async (extra: object = {}, component = 'KOH') => {
  const now = new Date();
  return db.prisma.analysis.create({
    data: {
      ...{ number: `A-LB${(number += 1)}`, bathId, methodId, sampledAt: now, analysedAt: now },
      ...{ analystId: shop.authorId, why: 'schedule', readings: {}, calcVersion: 'test', ...extra },
      results: {
        create: {
          bathId,
          sampledAt: now,
          component,
          name: component,
          value: 1,
          unit: 'gramsPerLitre',
          state: 'in-range',
        },
      },
    },
  });
};

/** Two drums of one chemical, of which the first is put into the bath now. */
async function drums(): Promise<[number, number]> {
  const chemical = await db.prisma.chemical.create({
    data: { code: 'LB', name: 'Looked back from', form: 'solid', assayMassFraction: 0.9, hazards: [] },
  });
  const lot = (supplierLot: string) =>
    db.prisma.chemicalLot.create({
      data: {
        ...{ chemicalId: chemical.id, supplierLot, receivedAt: new Date(), receivedById: shop.authorId },
        ...{ receivedKg: 25, assayMassFraction: 0.9 },
      },
    });
  const [one, other] = [await lot('B-1'), await lot('B-2')];
  await db.prisma.addition.create({
    data: {
      ...{ number: 'AD-LB', bathId, kind: 'chemical', state: 'done', steps: [], bathVersion: 1 },
      ...{
        plannedById: shop.authorId,
        doneById: shop.authorId,
        startedAt: new Date(),
        finishedAt: new Date(),
      },
      lines: {
        create: { position: 1, action: 'add-stock', chemicalLotId: one.id, kg: 1, measured: 'weighed' },
      },
    },
  });
  return [one.id, other.id];
}

let drum: number;
let unopened: number;
let before: { id: number };
let between: { id: number };
let meter: { id: number };
let first: number;
let second: number;
beforeAll(async () => {
  bathId = (await db.prisma.bath.findFirstOrThrow({ where: { tankId: shop.tanks[1]?.tankId ?? 0 } })).id;
  methodId = (
    await db.prisma.analysisMethod.create({
      data: { code: 'LB', revision: 1, name: 'For looking back', kind: 'ph', settings: {}, source: 'a test' },
    })
  ).id;
  meter = await instrument('PH-LB');
  const lots = await releasedLots();
  first = lots[0]?.id ?? 0;
  second = lots[1]?.id ?? 0;
  before = await analysed({ instrumentId: meter.id });
  // One that is void judged nothing: what stood before it went on standing.
  await analysed({ voidedAt: new Date(), voidedById: shop.authorId, voidReason: 'wrong tank' });
  // Nor did one of another component end it.
  await analysed({}, 'K2CO3');
  await signAll(first);
  between = await analysed();
  [drum, unopened] = await drums();
  await signAll(second);
});

describe('looking back', () => {
  it('an analysis was wrong, and lots of another week were blamed or its own forgotten', async () => {
    expect(await lotsOf({ about: `analysis-${before.id}` })).toEqual([first]);
    expect(await lotsOf({ about: `analysis-${between.id}` })).toEqual([second]);
  });

  it('a meter was wrong: what was signed upon its analyses is named with the analysis', async () => {
    expect(await tiesOf({ about: `instrument-${meter.id}` }, first)).toEqual(['A-LB1']);
    const unused = await instrument('PH-NEW');
    expect(await lotsOf({ about: `instrument-${unused.id}` })).toEqual([]);
  });

  it('a thermometer was wrong that only readings at tanks and evidence name', async () => {
    const thermometer = await instrument('TH-LB');
    const signed = await db.prisma.stepSignOff.findFirstOrThrow({
      where: { lotId: second, readings: { some: { quantity: 'temperatureC' } } },
    });
    expect(await lotsOf({ about: `instrument-${thermometer.id}` })).toEqual([]);
    const read = { value: 20, target: null, low: null, high: null, outside: false };
    for (const [quantity, word] of [
      ['pH', 'th-lb PH METER'],
      ['conductivitySPerM', 'another'],
    ] as const)
      await db.prisma.stepReading.create({
        data: { ...read, signOffId: signed.id, quantity, instrument: word },
      });
    expect(await tiesOf({ about: `instrument-${thermometer.id}` }, second)).toHaveLength(1);
    expect(await lotsOf({ about: `instrument-${thermometer.id}` })).toEqual([second]);
    await db.prisma.recipeEvidence.create({
      data: {
        ...{ revisionId: shop.recipeRevisionId, kind: 'trial-lot', grade: 'measured', pieces: 4 },
        ...{ materialId: shop.materialId, alloy: 'a', condition: '', baseMetal: 'titanium' },
        ...{ instrumentId: thermometer.id, citedInDraft: true, citedById: shop.authorId },
        ...{ lotId: second, lotNumber: 'L-2', labL: 40, labA: 8, labB: -30 },
      },
    });
    expect(await lotsOf({ about: `instrument-${thermometer.id}` })).toEqual([second, first]);
    const [tie] = (await tiesOf({ about: `instrument-${thermometer.id}` }, first)) ?? [];
    expect(tie).toMatch(/^evidence behind R-.* rev 1$/);
  });

  it('a bath, a rack, a supply, a recipe or a person was wrong', async () => {
    const { recipeRevisionId, rackId, supplyId } = shop;
    const { personId } = await db.prisma.stepSignOff.findFirstOrThrow({ where: { lotId: first } });
    for (const about of [
      `bath-${bathId}`,
      `rack-${rackId}`,
      `supply-${supplyId}`,
      `recipe-revision-${recipeRevisionId}`,
      `person-${personId}`,
    ])
      expect(await lotsOf({ about }), about).toEqual([second, first]);
  });

  it('a drum was bad: what was signed after it went in, until the bath was dumped', async () => {
    expect(await lotsOf({ about: `chemical-lot-${drum}` })).toEqual([second]);
    expect(await tiesOf({ about: `chemical-lot-${drum}` }, second)).toEqual(['AD-LB']);
    expect(await lotsOf({ about: `chemical-lot-${unopened}` })).toEqual([]);
  });

  it('days of another time were asked for', async () => {
    const about = `bath-${bathId}`;
    expect(await lotsOf({ about, from: '2099-01-01' })).toEqual([]);
    expect(await lotsOf({ about, to: '2001-01-01' })).toEqual([]);
    expect(await lotsOf({ about, from: '2001-01-01', to: '2099-01-01' })).toEqual([second, first]);
  });

  it('pieces had left the house', async () => {
    const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
    await ok(post(quality, `/lots/${first}/final-check`, check), 201);
    const shipment = { quantity: 20, carrier: 'van', document: 'D', notes: '' };
    const { shipments } = await ok<Lot>(post(planner, `/lots/${first}/shipments`, shipment), 201);
    const signed = { statement: 'Done as ordered.', deviations: '', jobTitle: 'Quality', replaces: null };
    const { id } = await ok<{ id: number }>(
      post(quality, `/shipments/${shipments[0]?.id ?? 0}/certificates`, signed),
      201,
    );
    const about = `bath-${bathId}`;
    expect((await found({ about })).totals).toEqual({
      ...{ lots: 2, customers: 1, shippedPieces: 20, certificates: 1 },
    });
    await ok(post(quality, `/certificates/${id}/withdrawal`, { reason: 'wrong copy' }));
    expect((await found({ about })).totals).toMatchObject({ shippedPieces: 20, certificates: 0 });
  });

  it('is told page by page and as a file, a line for each tie', async () => {
    const about = `rack-${shop.rackId}`;
    const page = await found({ about, limit: '1' });
    expect([page.items.map(({ id }) => id), page.totals.lots]).toEqual([[second], 2]);
    expect(await lotsOf({ about, limit: '1', after: page.next ?? '' })).toEqual([first]);
    const { body } = await quality({ url: `/api/look-back.csv?about=${about}` });
    const steps = await db.prisma.stepSignOff.count({ where: { lotId: { in: [first, second] } } });
    expect(body.trim().split('\r\n')).toHaveLength(1 + steps);
  });

  it('was asked about what there is not, about another kind, or by somebody who may not', async () => {
    expect((await ask({ about: 'bath-999999' })).statusCode).toBe(404);
    expect((await quality({ url: '/api/look-back.csv?about=bath-999999' })).statusCode).toBe(404);
    for (const about of ['tank-1', 'bath-0', 'bath-1;', 'bath', '']) {
      const refused = await ask({ about });
      expect([refused.statusCode, refused.json<{ issues: { path: string }[] }>().issues[0]?.path]).toEqual([
        422,
        'about',
      ]);
    }
    expect((await ask({ about: `bath-${bathId}` }, operator)).statusCode).toBe(403);
    expect((await ask({ about: `bath-${bathId}` }, lab)).statusCode).toBe(200);
  });

  it('offers what there is of each kind', async () => {
    const { items } = await ok<{ items: { subject: string; label: string }[] }>(
      quality({ url: '/api/look-back/choices?kind=instrument' }),
    );
    expect(items).toContainEqual({ subject: `instrument-${meter.id}`, label: 'PH-LB pH meter' });
    for (const kind of [
      'bath',
      'analysis',
      'titrant',
      'chemical-lot',
      'supply',
      'rack',
      'person',
      'recipe-revision',
    ])
      expect((await quality({ url: `/api/look-back/choices?kind=${kind}` })).statusCode, kind).toBe(200);
  });
});
