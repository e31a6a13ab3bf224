import type { ExchangeRate, Order, Quotation, QuotationSheet, Shop } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';
import { readPdf } from '../support/pdf.ts';

const { db, as, shop, estimator, planner, draft } = await mainLine({ currency: 'USD' });
const owner = await as('owner');

const writeDown = (currency: string, rate: string, day = '2026-01-02') =>
  ok<ExchangeRate>(post(estimator, '/exchange-rates', { currency, rate, day, source: 'a bank’s list' }), 201);
const quoteIn = async (currency: string) => {
  await db.prisma.customer.update({ where: { id: shop.customerId }, data: { currency } });
};
const draftAt = (exchangeRateId: number | null, oneOffs: object[] = []) => {
  const body = { customerId: shop.customerId, exchangeRateId, ...draft([48]) };
  return { ...body, lines: body.lines.map((line) => ({ ...line, options: { ...line.options, oneOffs } })) };
};
const quoted = (body: object) => ok<Quotation>(post(estimator, '/quotations', body), 201);
const priceOf = ({ shown }: Quotation) => shown.lines[0]?.breaks[0];

/** What the same line costs a customer in the shop's own currency. */
await quoteIn('USD');
const inUsd = priceOf(await quoted(draftAt(null)));

test.each([
  ['JPY', '151.2', 0],
  ['KWD', '0.3072', 3],
  ['EUR', '0.9221', 2],
])('a price in %s is exchanged, not relabelled, and has its %s decimals', async (currency, rate, digits) => {
  await quoteIn(currency);
  const exchange = await writeDown(currency, rate);
  const quotation = await quoted(draftAt(exchange.id, [{ label: 'tooling', amount: 100 }]));
  const price = priceOf(quotation);
  const build = price?.buildUp;
  expect(quotation.shown).toMatchObject({
    currency,
    exchange: { baseCurrency: 'USD', currency, rate, day: '2026-01-02', source: 'a bank’s list' },
  });
  const beforeExchange = inUsd?.buildUp?.priceBeforeExchange ?? NaN;
  const lot = Number((beforeExchange * Number(rate)).toFixed(digits));
  const tooling = Number((100 * Number(rate)).toFixed(digits));
  expect(price?.totalPrice).toBe((lot + tooling).toFixed(digits));
  expect(price?.unitPrice).toBe((lot / 48).toFixed(digits + 2));
  expect(build?.directCost).toBe(inUsd?.buildUp?.directCost);
  expect(quotation.shown.lines[0]?.oneOffs).toEqual([
    { label: 'tooling', amount: String(tooling), trial: null },
  ]);
});

test('a customer in another currency is not quoted without a rate of exchange, nor with that of a third', async () => {
  await quoteIn('CHF');
  const refused = async (exchangeRateId: number | null) =>
    (await post(estimator, '/quotations', draftAt(exchangeRateId))).json<object>();
  expect(await refused(null)).toMatchObject({ status: 422, issues: [{ path: 'exchangeRateId' }] });
  const yen = await writeDown('JPY', '150');
  expect(await refused(yen.id)).toMatchObject({ status: 422, issues: [{ path: 'exchangeRateId' }] });
  await quoteIn('USD');
  expect(await refused(yen.id)).toMatchObject({ status: 422, issues: [{ path: 'exchangeRateId' }] });
});

test('what was quoted keeps its rate; page, paper, list, order and CSV show it', async () => {
  await quoteIn('KWD');
  const exchange = await writeDown('KWD', '0.30715');
  const made = await quoted(draftAt(exchange.id));
  const sent = await ok<Quotation>(
    post(estimator, `/quotations/${made.id}/send`, {}, { 'if-match': `"${made.version}"` }),
  );
  await writeDown('KWD', '0.4', '2026-01-03');
  await quoteIn('EUR');
  const read = await ok<Quotation>(estimator({ url: `/api/quotations/${sent.id}` }));
  expect(read.shown).toEqual(sent.shown);
  const total = priceOf(sent)?.totalPrice ?? '';
  expect(total).toMatch(/^\d+\.\d{3}$/);
  const pdf = await estimator({ url: `/api/quotations/${sent.id}/revisions/1/pdf` });
  const text = (await readPdf(pdf.rawPayload))
    .map((page) => page.text)
    .join(' ')
    .replace(/\s+/g, ' ');
  expect(text).toContain(`KWD ${total}`);
  expect(text).toContain('1 USD = 0.30715 KWD, 2 Jan 2026, a bank’s list');
  const csv = (await estimator({ url: '/api/quotations.csv' })).body;
  expect(csv).toContain(`${total},KWD,0.30715`);
  const order = await ok<Order>(
    post(planner, `/quotations/${sent.id}/accept`, {
      customerOrderNumber: 'PO 1',
      dueDate: '2099-01-15',
      lines: [{ lineId: sent.shown.lines[0]?.id, breakId: priceOf(sent)?.id }],
    }),
    201,
  );
  expect(order).toMatchObject({ currency: 'KWD', lines: [{ totalPrice: total }] });
  const orders = await ok<{ items: object[] }>(planner({ url: '/api/orders' }));
  expect(orders.items[0]).toMatchObject({ total, currency: 'KWD' });
});

test.each([
  ['JPY', '1200.50', 422, undefined],
  ['JPY', '1200', 201, '1200'],
  ['KWD', '12.345', 201, '12.345'],
  ['EUR', '12.345', 422, undefined],
  ['EUR', '12.5', 201, '12.50'],
])(
  'an order typed in %s for %s has the decimals of its currency',
  async (...[currency, totalPrice, status, kept]) => {
    await quoteIn(currency);
    const { partId, recipeRevisionId, rackId, supplyId } = shop;
    const work = { partId, recipeRevisionId, rackId, supplyId, quantity: 7 };
    const line = {
      ...work,
      totalPrice,
      dueDate: '2099-01-15',
      certificate: false,
      inspectionLevel: '',
      notes: '',
    };
    const reply = await post(planner, '/orders', {
      customerId: shop.customerId,
      customerOrderNumber: 'PO 2',
      notes: '',
      lines: [line],
    });
    expect(reply.statusCode, reply.body).toBe(status);
    if (status === 201) expect(reply.json<Order>().lines[0]?.totalPrice).toBe(kept);
    else expect(reply.json()).toMatchObject({ issues: [{ path: 'lines.0.totalPrice' }] });
  },
);

test.each([
  ['no such currency', { currency: 'XXX' }, 'currency'],
  ['the shop’s own', { currency: 'USD' }, 'currency'],
  ['nothing for one', { rate: '0' }, 'rate'],
  ['a decimal comma left in', { rate: '0,92' }, 'rate'],
  ['a day to come', { day: '2999-01-01' }, 'day'],
  ['no source', { source: ' ' }, 'source'],
])('a rate of exchange with %s is refused by its field', async (_what, wrong, path) => {
  const right = { currency: 'EUR', rate: '0.92', day: '2026-01-02', source: 'a bank' };
  const reply = await post(estimator, '/exchange-rates', { ...right, ...wrong });
  expect(reply.json()).toMatchObject({ status: 422, issues: [{ path }] });
});

test('a rate of exchange is never edited', async () => {
  const { id } = await writeDown('EUR', '0.9');
  for (const change of [
    `update exchange_rate set rate = 1 where id = ${id}`,
    `delete from exchange_rate where id = ${id}`,
    'truncate exchange_rate cascade',
  ])
    await expect(db.pool.query(change)).rejects.toMatchObject({ code: 'HU001' });
});

test('the currency of the shop is not relabelled under the figures that stand in it', async () => {
  const before = await ok<Shop>(owner({ url: '/api/shop' }));
  const { version, ...facts } = before;
  const reply = await owner({
    method: 'PUT',
    url: '/api/shop',
    payload: { ...facts, name: 'Anodisers', currency: 'JPY' },
    headers: { 'if-match': `"${version}"` },
  });
  expect(reply.json()).toMatchObject({ status: 422, issues: [{ path: 'currency' }] });
  expect(reply.body).toContain('revisions of the rates');
  await expect(db.pool.query(`update shop set currency = 'JPY'`)).rejects.toMatchObject({ code: 'HU001' });
  expect((await ok<Shop>(owner({ url: '/api/shop' }))).currency).toBe('USD');
});

test('a draft follows the currency of its customer, and a copy takes the newest rate', async () => {
  await quoteIn('USD');
  const made = await quoted(draftAt(null));
  await quoteIn('NOK');
  const without = await post(estimator, `/quotations/${made.id}/copy`, {});
  expect(without.json()).toMatchObject({
    status: 409,
    detail: expect.stringContaining('rate of exchange') as string,
  });
  await quoteIn('EUR');
  const newest = await writeDown('EUR', '0.95', '2026-01-05');
  const copied = await ok<Quotation>(post(estimator, `/quotations/${made.id}/copy`, {}), 201);
  expect(copied.shown).toMatchObject({ currency: 'EUR', exchange: { id: newest.id } });
  const sheet = await ok<QuotationSheet>(
    estimator({ url: `/api/customers/${shop.customerId}/quotation-sheet` }),
  );
  expect(sheet.baseCurrency).toBe('USD');
  expect(sheet.exchangeRates[0]?.id).toBe(newest.id);
  expect(new Set(sheet.exchangeRates.map(({ currency }) => currency))).toEqual(new Set(['EUR']));
});
