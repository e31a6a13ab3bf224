import { whoDecides, type Lot, type Order, type Quotation, type Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { closeDocument, openDocument } from '../../apps/api/src/documents/page-parts.ts';
import { testApp, type Ask } from '../support/app.ts';
import { readPdf } from '../support/pdf.ts';
import { equipShop } from '../support/shop.ts';

const { db, as } = await testApp();
const shop = await equipShop(db);
await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Paper Works', address: '1 Row' } });
const [estimator, planner] = await Promise.all([as('estimator'), as('planner')]);
const post = async <T>(...[ask, url, payload, version]: [Ask, string, object, number?]): Promise<T> => {
  const reply = await ask({
    method: 'POST',
    url: `/api${url}`,
    payload,
    ...(version === undefined ? {} : { headers: { 'if-match': `"${version}"` } }),
  });
  expect(reply.statusCode, reply.body).toBeLessThan(300);
  return reply.json<T>();
};

/** What a page with nothing but its foot shows: a page that failed to draw would show no more. */
async function emptyPageInk(): Promise<number> {
  const sheet = { title: 'Nothing', author: 'Paper Works', foot: 'Paper Works · printed today by nobody' };
  const [page] = await readPdf(await closeDocument(openDocument(sheet), sheet));
  if (page === undefined) throw new Error('an empty document has one page');
  return page.inked();
}

const options = {
  maskingFeatures: 0,
  masking: { timeS: 0, materialCost: 0 },
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  inspectionLevel: 'visual',
  certificate: true,
  packing: '',
  packingCost: 7.5,
  expedite: false,
  validatedPieces: null,
  oneOffs: [{ label: 'rack tooling', amount: 180 }],
};
const drafted = await post<Quotation>(estimator, '/quotations', {
  customerId: shop.customerId,
  contactName: 'Ms <b>Lind</b>',
  enquiryReference: '',
  validUntil: '2099-01-01',
  leadTimeDays: 10,
  taxRatePercent: 20,
  terms: 'Net 30',
  customerNotes: 'Colour within the agreed range, 30 µm, ΔE₀₀ 3',
  internalNotes: 'NEVER-PRINTED',
  rateCardId: shop.rateCardId,
  lines: [
    {
      partId: shop.partId,
      recipeRevisionId: shop.recipeRevisionId,
      rackId: shop.rackId,
      supplyId: shop.supplyId,
      quantities: [48, 480],
      options,
    },
  ],
});
const quotation = await post<Quotation>(estimator, `/quotations/${drafted.id}/send`, {}, drafted.version);

test('the quotation reads back with its prices and without its costs', async () => {
  const reply = await estimator({ url: `/api/quotations/${quotation.id}/revisions/1/pdf` });
  expect(reply.headers['content-type']).toBe('application/pdf');
  const pages = await readPdf(reply.rawPayload);
  const text = pages.map((page) => page.text).join(' ');
  for (const price of quotation.shown.lines[0]?.breaks ?? [])
    expect(text).toContain(`EUR ${Number(price.totalPrice).toLocaleString('en')}`);
  for (const word of ['Paper Works', 'Ms <b>Lind</b>', 'rack tooling', 'ΔE00', '30 μm', 'page 1 of'])
    expect(text).toContain(word);
  for (const hidden of [
    'NEVER-PRINTED',
    'margin',
    'overhead',
    'labour',
    String(quotation.shown.lines[0]?.breaks[0]?.buildUp?.cost.toFixed(2)),
  ]) {
    expect(text.toLowerCase()).not.toContain(hidden.toLowerCase());
  }
  for (const page of pages) expect(await page.inked()).toBeGreaterThan(3 * (await emptyPageInk()));
});

test('the traveler reads back with limits, computed amps, cautions and a code that leads to it', async () => {
  const [line] = quotation.shown.lines;
  const order = await post<Order>(planner, `/quotations/${quotation.id}/accept`, {
    customerOrderNumber: 'PO 1',
    dueDate: '2099-01-15',
    lines: [{ lineId: line?.id, breakId: line?.breaks[0]?.id }],
  });
  const orderLine = order.lines[0];
  await post(planner, `/order-lines/${orderLine?.id}/receipt`, { count: 48, reason: '' }, orderLine?.version);
  const { lots } = await post<{ lots: Lot[] }>(planner, `/order-lines/${orderLine?.id}/release`, {
    rackId: shop.rackId,
    supplyId: shop.supplyId,
    tanks: shop.tanks,
    loads: [24, 24],
    dueDate: '2099-01-15',
    priority: 0,
  });
  const traveler = (await planner({ url: `/api/tankside/lots/${lots[0]?.id}` })).json<Traveler>();
  const reply = await planner({ url: `/api/travelers/${traveler.id}/pdf` });
  const pages = await readPdf(reply.rawPayload);
  const text = pages
    .map((page) => page.text)
    .join(' ')
    .replaceAll(/\s+/g, ' ');
  // 24 pieces of 0.42 dm² at 2 A/dm² by hand: 20.2 A.
  for (const word of [
    traveler.number,
    'revision 1',
    '20.2 A',
    '30.00 V',
    '29.00 V to 31.00 V',
    'Cautions',
    'safety data sheet',
    'Load and rack sheet',
    `page 1 of ${pages.length}`,
  ])
    expect(text).toContain(word);
  // Who decides closes the list, and is said once.
  expect(text.split(whoDecides)).toHaveLength(2);
  for (const page of pages) expect(await page.inked()).toBeGreaterThan(3 * (await emptyPageInk()));
  expect((await planner({ url: '/api/travelers/999999/pdf' })).statusCode).toBe(404);
});
