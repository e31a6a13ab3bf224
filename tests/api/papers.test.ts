import { createHash } from 'node:crypto';
import {
  type Customer,
  CustomerFacts,
  type IssuedPaper,
  moneyText,
  SAFETY_DISCLAIMER,
  type Lot,
  type Order,
  type Quotation,
  type Traveler,
} from '@huelot/contracts';
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
  const sheet = {
    title: 'Nothing',
    author: 'Paper Works',
    foot: 'Paper Works · printed today by nobody',
    madeAt: new Date(),
  };
  const [page] = await readPdf(await closeDocument(openDocument(sheet), sheet));
  if (page === undefined) throw new Error('an empty document has one page');
  return page.inked();
}

const pickFacts = (customer: Customer) =>
  Object.fromEntries(
    Object.entries(customer).filter(([field]) => Object.keys(CustomerFacts.shape).includes(field)),
  );

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
    expect(text).toContain(moneyText(price.totalPrice, 'EUR').replaceAll(/\s/g, ' '));
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
  expect(text.split(SAFETY_DISCLAIMER)).toHaveLength(2);
  for (const page of pages) expect(await page.inked()).toBeGreaterThan(3 * (await emptyPageInk()));
  expect((await planner({ url: '/api/travelers/999999/pdf' })).statusCode).toBe(404);
});

test('the traveler of a lot on hold was printed without a word of the hold', async () => {
  const traveler = await db.prisma.traveler.findFirstOrThrow();
  const printed = async () => {
    const reply = await planner({ url: `/api/travelers/${traveler.id}/pdf` });
    return (await readPdf(reply.rawPayload)).map((page) => page.text).join(' ');
  };
  expect(await printed()).not.toContain('ON HOLD');
  await post(await as('quality'), `/lots/${traveler.lotId}/hold`, { reason: 'scratched rack' });
  expect(await printed()).toContain('THIS LOT IS ON HOLD: scratched rack');
  expect(await printed()).toContain('Print 2: shows what was on record on');

  const papers = (await planner({ url: `/api/travelers/${traveler.id}/papers` })).json<{
    items: IssuedPaper[];
  }>();
  expect(papers.items.map(({ issue }) => issue)).toEqual([2, 1]);
  const first = await planner({ url: `/api${papers.items[1]?.path ?? ''}` });
  const [page] = await readPdf(first.rawPayload);
  expect(page?.text).not.toContain('ON HOLD');
});

test('two copies of one sent quotation differed by who printed it', async () => {
  const url = `/api/quotations/${quotation.id}/revisions/1/pdf`;
  const [first, imperial] = await Promise.all([as('owner'), as('planner')]);
  await db.prisma.person.update({ where: { id: imperial.personId }, data: { units: 'us' } });
  const copies = await Promise.all([estimator({ url }), first({ url }), imperial({ url })]);
  const [sent] = await db.prisma.issuedPaper.findMany({ where: { kind: 'quotation' } });
  for (const copy of copies) expect(Buffer.compare(copy.rawPayload, Buffer.from(sent?.bytes ?? ''))).toBe(0);

  const { items } = (await first({ url: `/api/quotations/${quotation.id}/papers` })).json<{
    items: IssuedPaper[];
  }>();
  const digest = createHash('sha256')
    .update(copies[0]?.rawPayload ?? '')
    .digest('hex');
  expect(items).toMatchObject([
    { title: `${quotation.number} revision 1`, issue: 1, units: 'metric', sha256: digest },
  ]);
  expect(`/api${items[0]?.path ?? ''}`).toBe(url);
});

test('a paper is in the units chosen for the customer when it was sent, and no later choice changes it', async () => {
  const customer = (await estimator({ url: `/api/customers/${shop.customerId}` })).json<Customer>();
  const choose = (units: string, version: number) =>
    estimator({
      method: 'PUT',
      url: `/api/customers/${shop.customerId}`,
      payload: { ...CustomerFacts.parse(pickFacts(customer)), units },
      headers: { 'if-match': `"${version}"` },
    });
  const chosen = (await choose('us', customer.version)).json<Customer>();
  expect(chosen.units).toBe('us');
  const copied = await post<Quotation>(estimator, `/quotations/${quotation.id}/copy`, {});
  await post<Quotation>(estimator, `/quotations/${copied.id}/send`, {}, copied.version);
  await choose('metric', chosen.version);
  const textOf = async (id: number) => {
    const { rawPayload } = await planner({ url: `/api/quotations/${id}/revisions/1/pdf` });
    return (await readPdf(rawPayload)).map((page) => page.text).join(' ');
  };
  expect(await textOf(copied.id)).toContain('0.0452 ft²');
  expect(await textOf(quotation.id)).toContain('0.420 dm²');
});

test('a quotation sent before papers were kept is made once, from what it was sent with', async () => {
  const url = `/api/quotations/${quotation.id}/revisions/1/pdf`;
  const before = await estimator({ url });
  await db.prisma.$transaction(async (tx) => {
    await tx.$executeRaw`alter table "issued_paper" disable trigger user`;
    await tx.$executeRaw`delete from "issued_paper" where "kind" = 'quotation' and "recordId" = ${quotation.shown.id}`;
    await tx.$executeRaw`alter table "issued_paper" enable trigger user`;
  });
  await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Renamed Works' } });
  const [one, other] = await Promise.all([estimator({ url }), planner({ url })]);
  expect(Buffer.compare(one.rawPayload, before.rawPayload)).toBe(0);
  expect(Buffer.compare(other.rawPayload, before.rawPayload)).toBe(0);
  expect(
    await db.prisma.issuedPaper.count({ where: { kind: 'quotation', recordId: quotation.shown.id } }),
  ).toBe(1);
});

test.each([
  `update "issued_paper" set "bytes" = 'x', "sha256" = sha256('x')`,
  `update "issued_paper" set "snapshot" = '{}'`,
  `delete from "issued_paper"`,
  `truncate "issued_paper"`,
])('a paper that was handed out could be altered: %s', async (statement) => {
  expect(await db.prisma.issuedPaper.count()).toBeGreaterThan(0);
  await expect(db.pool.query(statement)).rejects.toMatchObject({ code: 'HU001' });
});

test('a paper is not stored under a digest of other bytes', async () => {
  const forged = `
    insert into "issued_paper" ("kind", "recordId", "issue", "title", "fileName", "units", "shownSha256", "sha256", "bytes", "issuedById", "issuedAt")
    select "kind", "recordId", 99, "title", "fileName", "units", "shownSha256", "sha256", 'x', "issuedById", "issuedAt" from "issued_paper" limit 1`;
  await expect(db.pool.query(forged)).rejects.toMatchObject({ constraint: 'issued_paper_digest' });
});
