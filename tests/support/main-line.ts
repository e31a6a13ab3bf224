import type { LotSummary, Order, Quotation, Traveler } from '@huelot/contracts';
import { expect } from 'vitest';
import { testApp, type Ask } from './app.ts';
import { equipShop, type EquippedShop } from './shop.ts';

/** An answer that must have come with this status. */
export async function ok<T>(answer: ReturnType<Ask>, status = 200): Promise<T> {
  const reply = await answer;
  expect(reply.statusCode, reply.body).toBe(status);
  return reply.json<T>();
}
/** Sends a body; the last argument is headers such as `if-match`. */
export const post = (...[ask, url, payload, headers = {}]: [Ask, string, object, Record<string, string>?]) =>
  ask({ method: 'POST', url: `/api${url}`, payload, headers });

/** A step signed as it should be, with its readings. */
export const signOff = (count: number, readings: object[], extra: object = {}) => ({
  doneAt: new Date().toISOString(),
  countIn: count,
  countOut: count,
  rejectCount: 0,
  readings,
  reason: '',
  note: '',
  // Tests sign one step after the other at once.
  shortTimeReason: 'signed at once by a test',
  tankId: null,
  supplyId: null,
  signer: null,
  ...extra,
});
export const reading = (quantity: string, value: number) => ({ quantity, value, instrument: '' });
/** Readings within their limits, by the position of the step. */
export const good: Record<number, object[]> = {
  1: [reading('temperatureC', 60)],
  2: [],
  3: [reading('voltageV', 30), reading('currentA', 20)],
  4: [],
};

const options = () => ({
  maskingFeatures: 0,
  masking: { timeS: 0, materialCost: 0 },
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  inspectionLevel: '',
  certificate: true,
  packing: '',
  packingCost: 7.5,
  expedite: false,
  validatedPieces: null,
  oneOffs: [],
});
const draftFor = (shop: EquippedShop, quantities: number[]) => ({
  contactName: '',
  enquiryReference: '',
  validUntil: '2099-01-01',
  leadTimeDays: 10,
  taxRatePercent: 20,
  terms: '',
  customerNotes: '',
  internalNotes: 'ours',
  rateCardId: shop.rateCardId,
  lines: [
    {
      partId: shop.partId,
      recipeRevisionId: shop.recipeRevisionId,
      rackId: shop.rackId,
      supplyId: shop.supplyId,
      quantities,
      options: options(),
    },
  ],
});

/** A small shop with one person of each role, and how its work comes along. */
/** In a shop of another currency than its customer's where `currency` names one. */
export async function mainLine({ currency = 'EUR' } = {}) {
  const { app, db, as } = await testApp();
  await db.prisma.shop.update({ where: { id: 1 }, data: { currency } });
  const shop = await equipShop(db);
  const [estimator, planner, operator, quality] = await Promise.all([
    as('estimator'),
    as('planner'),
    as('operator'),
    as('quality'),
  ]);
  const draft = (quantities: number[]) => draftFor(shop, quantities);

  const send = ({ id, version }: Quotation) =>
    ok<Quotation>(post(estimator, `/quotations/${id}/send`, {}, { 'if-match': `"${version}"` }));

  async function sentQuotation(quantities = [48, 480]): Promise<Quotation> {
    const facts = { customerId: shop.customerId, ...draft(quantities) };
    return send(await ok<Quotation>(post(estimator, '/quotations', facts), 201));
  }
  async function acceptedOrder(index = 0): Promise<Order> {
    const quotation = await sentQuotation();
    const [line] = quotation.shown.lines;
    const picks = [{ lineId: line?.id, breakId: line?.breaks[index]?.id }];
    return ok<Order>(
      post(planner, `/quotations/${quotation.id}/accept`, {
        customerOrderNumber: 'PO 7',
        dueDate: '2099-01-15',
        lines: picks,
      }),
      201,
    );
  }
  async function releasedLots(): Promise<LotSummary[]> {
    let order = await acceptedOrder();
    const line = () => order.lines[0] as Order['lines'][number];
    order = await ok<Order>(
      post(
        planner,
        `/order-lines/${line().id}/receipt`,
        { count: 48, reason: '' },
        { 'if-match': `"${line().version}"` },
      ),
    );
    const release = {
      rackId: shop.rackId,
      supplyId: shop.supplyId,
      tanks: shop.tanks,
      loads: [24, 24],
      dueDate: '2099-01-15',
      priority: 0,
    };
    return (
      await ok<{ lots: LotSummary[] }>(post(planner, `/order-lines/${line().id}/release`, release), 201)
    ).lots;
  }

  const opened = (lotId: number) => ok<Traveler>(operator({ url: `/api/tankside/lots/${lotId}` }));

  async function signAll(lotId: number, count = 24): Promise<Traveler> {
    let traveler = await opened(lotId);
    for (const step of traveler.steps) {
      traveler = await ok<Traveler>(
        post(operator, `/steps/${step.id}/sign-off`, signOff(count, good[step.position] ?? [])),
        201,
      );
    }
    return traveler;
  }

  return {
    ...{ app, db, as, shop, estimator, planner, operator, quality },
    ...{ draft, send, sentQuotation, acceptedOrder, releasedLots, opened, signAll },
  };
}
