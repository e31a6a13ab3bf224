import { createHash } from 'node:crypto';
import {
  compareAmounts,
  sumOfAmounts,
  type Invoice,
  type InvoiceSheet,
  type Lot,
  type LotSummary,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const line = await mainLine();
const { db, as, shop, planner, operator, quality, estimator } = line;
const owner = await as('owner');
beforeAll(async () => {
  await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Row Works', address: '1 Row, Mill Lane' } });
});

/** Ships pieces of the two lots of 24 of a new order line and gives back the shipments in their order. */
async function shipped(
  parts: number[] = [20, 3],
  { ends = [24] } = {},
): Promise<{ ids: number[]; orderId: number; lineId: number }> {
  const lots = (await line.releasedLots()) as [LotSummary, LotSummary];
  const ids: number[] = [];
  let orderId = 0;
  for (const [index, { id }] of lots.entries()) {
    await line.signAll(id);
    const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
    await ok(post(quality, `/lots/${id}/final-check`, check), 201);
    for (const quantity of index === 0 ? parts : ends) {
      const lot = await ok<Lot>(
        post(planner, `/lots/${id}/shipments`, { quantity, carrier: 'van', document: '', notes: '' }),
        201,
      );
      ids.push(Math.max(...lot.shipments.map((one) => one.id)));
      orderId = lot.order.id;
    }
  }
  const [orderLine] = await db.prisma.orderLine.findMany({ where: { orderId } });
  return { ids, orderId, lineId: orderLine?.id ?? 0 };
}
/** Writes what no door lets through any more once pieces are shipped, so that a test has such a line. */
async function unguarded(statements: string[]): Promise<void> {
  const client = await db.pool.connect();
  try {
    await client.query('set session_replication_role = replica');
    for (const statement of statements) await client.query(statement);
  } finally {
    await client.query('reset session_replication_role');
    client.release();
  }
}
const body = (shipmentIds: number[], extra: object = {}) => ({
  shipmentIds,
  prices: [],
  paymentDays: 30,
  notes: '',
  ...extra,
});
const draft = (ids: number[], extra: object = {}, ask = estimator) =>
  post(ask, '/invoices', body(ids, extra));
const match = (version: number) => ({ 'if-match': `"${version}"` });
const issue = ({ id, version }: Invoice, ask = estimator) =>
  post(ask, `/invoices/${id}/issue`, {}, match(version));
const issued = async (ids: number[], extra: object = {}) =>
  ok<Invoice>(issue(await ok<Invoice>(draft(ids, extra), 201)));
const credit = (id: number, extra: object = {}) =>
  post(estimator, `/invoices/${id}/credit-notes`, {
    lines: null,
    reason: 'wrong order',
    frees: false,
    ...extra,
  });
const read = (id: number) => ok<Invoice>(estimator({ url: `/api/invoices/${id}` }));
const counted = (number: string | null) => Number(/\d+$/.exec(number ?? '')?.[0] ?? Number.NaN);

describe('what part shipments of a line come to', () => {
  it('is the quoted total, to the last cent, whatever the parts and the order they are invoiced in', async () => {
    const { ids, lineId } = await shipped([7, 11, 5, 1]);
    const { totalPrice } = await db.prisma.orderLine.findUniqueOrThrow({ where: { id: lineId } });
    const invoices: Invoice[] = [];
    for (const id of [ids[2], ids[0], ids[4], ids[1], ids[3]]) invoices.push(await issued([id ?? 0]));
    const nets = invoices.map(({ net }) => net);
    expect(nets.every((net) => compareAmounts(net, '0') > 0)).toBe(true);
    expect(sumOfAmounts(nets, 'EUR')).toBe(totalPrice.toFixed(2));
  });

  it('holds one-off charges on the first invoice of the line and on no other', async () => {
    const { ids, lineId } = await shipped([20, 4]);
    const { quotationLineId, totalPrice } = await db.prisma.orderLine.findUniqueOrThrow({
      where: { id: lineId },
    });
    await unguarded([
      `update "quotation_break" set "buildUp" = jsonb_set("buildUp", '{oneOffs}', '[{"label": "tooling", "amount": 80.5}]') where "lineId" = ${quotationLineId}`,
      `update "order_line" set "totalPrice" = "totalPrice" + 80.5 where "id" = ${lineId}`,
    ]);
    const [first = 0, second = 0, third = 0] = ids;
    const sheet = await ok<InvoiceSheet>(
      estimator({ url: `/api/customers/${shop.customerId}/invoice-sheet` }),
    );
    expect(
      sheet.shipments.filter(({ order }) => order.lineId === lineId).map(({ oneOffs }) => oneOffs),
    ).toEqual([[{ label: 'tooling', amount: '80.50' }], [], []]);
    const one = await issued([second]);
    expect(one.facts.lines.map(({ label, net }) => [label, net])).toContainEqual(['tooling', '80.50']);
    const two = await issued([first, third]);
    expect(two.facts.lines.every(({ kind }) => kind === 'pieces')).toBe(true);
    expect(sumOfAmounts([one.net, two.net], 'EUR')).toBe((Number(totalPrice) + 80.5).toFixed(2));
  });

  it('is typed with a reason where the order came without a price, and nowhere else', async () => {
    const { ids, lineId } = await shipped();
    const prices = [{ orderLineId: lineId, unitPrice: '1.115', reason: 'as told by phone' }];
    const quoted = await draft(ids, { prices });
    expect(quoted.statusCode).toBe(422);
    expect(quoted.body).toContain('prices.0.orderLineId');
    await unguarded([
      `update "order_line" set "quotationLineId" = null, "totalPrice" = 0 where "id" = ${lineId}`,
    ]);
    const without = await draft(ids);
    expect(without.statusCode).toBe(422);
    expect(without.json()).toMatchObject({ issues: [{ path: 'prices' }] });
    expect((await draft(ids, { prices: [{ ...prices[0], reason: ' ' }] })).statusCode).toBe(422);
    expect((await draft(ids, { prices: [{ ...prices[0], unitPrice: '-1' }] })).statusCode).toBe(422);
    const parts = [await issued([ids[0] ?? 0], { prices }), await issued(ids.slice(1), { prices })];
    expect(
      sumOfAmounts(
        parts.map(({ net }) => net),
        'EUR',
      ),
    ).toBe('52.41');
    expect(parts[0]?.facts.lines[0]).toMatchObject({ priceReason: 'as told by phone', unitPrice: '1.1150' });
  });
});

describe('an invoice', () => {
  it('is frozen with its papers: the same bytes for ever, whatever the record says later', async () => {
    const { ids } = await shipped();
    const invoice = await issued(ids, { notes: 'Thank you' });
    const bytes = async () => (await planner({ url: `/api/invoices/${invoice.id}/pdf` })).rawPayload;
    const before = await bytes();
    const kept = await db.prisma.issuedPaper.findFirstOrThrow({
      where: { kind: 'invoice', recordId: invoice.id },
    });
    expect(createHash('sha256').update(before).digest('hex')).toBe(Buffer.from(kept.sha256).toString('hex'));
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Other Works' } });
    await db.prisma.customer.update({ where: { id: shop.customerId }, data: { taxRatePercent: 7 } });
    const { version } = await ok<{ version: number }>(owner({ url: '/api/billing-details' }));
    const details = { country: 'AT', taxNumber: 'ATU12345678', iban: '', bic: '', paymentDays: 7 };
    await ok(
      owner({ method: 'PUT', url: '/api/billing-details', payload: details, headers: match(version) }),
    );
    expect((await bytes()).equals(before)).toBe(true);
    expect((await read(invoice.id)).facts).toEqual(invoice.facts);
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Row Works' } });
    const text = (await readPdf(before)).map((page) => page.text).join(' ');
    for (const words of ['Row Works', invoice.number ?? '', 'PO 7', 'To pay', 'Thank you'])
      expect(text).toContain(words);
    for (const statement of [
      `update "invoice" set "notes" = 'x' where "id" = ${invoice.id}`,
      `delete from "invoice" where "id" = ${invoice.id}`,
      `delete from "invoice_line" where "invoiceId" = ${invoice.id}`,
      `update "invoice_line" set "net" = 0 where "invoiceId" = ${invoice.id}`,
      `insert into "invoice_line" ("invoiceId", "position", "kind", "orderLineId", "oneOffIndex", "quantity", "basisTotal", "basisQuantity", "net")
         select "invoiceId", 99, 'one-off', "orderLineId", 7, 1, 5, 1, 5 from "invoice_line" where "invoiceId" = ${invoice.id} limit 1`,
      `truncate "invoice" cascade`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toMatchObject({ code: 'HU001' });
    expect(
      (await post(estimator, `/invoices/${invoice.id}/issue`, {}, match(invoice.version))).statusCode,
    ).toBe(409);
    const put = {
      method: 'PUT' as const,
      url: `/api/invoices/${invoice.id}`,
      payload: body(ids),
      headers: match(1),
    };
    expect((await estimator(put)).statusCode).toBe(409);
    expect(
      (await estimator({ method: 'DELETE', url: `/api/invoices/${invoice.id}`, payload: {} })).statusCode,
    ).toBe(409);
  });

  it('adds the tax of the customer to the sum, rounded once', async () => {
    await db.prisma.customer.update({ where: { id: shop.customerId }, data: { taxRatePercent: 8.125 } });
    const { ids } = await shipped();
    const { net, facts, gross } = await issued(ids);
    expect(Number(facts.tax)).toBeCloseTo(Number(net) * 0.08125, 2);
    expect(gross).toBe(sumOfAmounts([net, facts.tax], 'EUR'));
    await db.prisma.customer.update({ where: { id: shop.customerId }, data: { taxRatePercent: 20 } });
  });

  it('took a shipment twice, also by two at once, and past the service', async () => {
    const { ids } = await shipped();
    const replies = await Promise.all([draft(ids), draft(ids)]);
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 409]);
    expect((await draft([ids[0] ?? 0])).statusCode).toBe(409);
    const [taken] = replies
      .filter(({ statusCode }) => statusCode === 201)
      .map((reply) => reply.json<Invoice>());
    const other = await ok<Invoice>(draft((await shipped()).ids), 201);
    await expect(
      db.pool.query(
        `insert into "invoice_line" ("invoiceId", "position", "kind", "orderLineId", "shipmentId", "quantity", "basisTotal", "basisQuantity", "net")
           select ${other.id}, 99, 'pieces', "orderLineId", "shipmentId", 1, 1, 1, 1 from "invoice_line" where "invoiceId" = ${taken?.id} limit 1`,
      ),
    ).rejects.toMatchObject({ code: 'HU001' });
    await ok(estimator({ method: 'DELETE', url: `/api/invoices/${taken?.id}`, payload: {} }));
    await ok(draft(ids), 201);
  });

  it('was drafted or seen by who may not see prices', async () => {
    const { ids } = await shipped();
    for (const ask of [operator, quality, planner]) expect((await draft(ids, {}, ask)).statusCode).toBe(403);
    const invoice = await ok<Invoice>(draft(ids), 201);
    for (const ask of [operator, quality]) {
      expect((await ask({ url: `/api/invoices/${invoice.id}` })).statusCode).toBe(403);
      expect((await ask({ url: '/api/invoices' })).statusCode).toBe(403);
      expect((await ask({ url: '/api/invoice-sums' })).statusCode).toBe(403);
    }
    expect((await issue(invoice, planner)).statusCode).toBe(403);
    expect((await planner({ url: `/api/invoices/${invoice.id}` })).statusCode).toBe(200);
  });

  it('is changed while it is a draft, and by whoever saw it as it is', async () => {
    const { ids } = await shipped();
    const [first = 0, second = 0] = ids;
    const invoice = await ok<Invoice>(draft([first, second]), 201);
    const change = (version: number, shipmentIds: number[]) =>
      estimator({
        method: 'PUT',
        url: `/api/invoices/${invoice.id}`,
        payload: body(shipmentIds, { paymentDays: 14 }),
        headers: match(version),
      });
    const changed = await ok<Invoice>(change(invoice.version, [second]));
    expect(changed.facts).toMatchObject({ paymentDays: 14, lines: [{ quantity: 3 }] });
    expect((await change(invoice.version, [first])).statusCode).toBe(412);
    expect((await issue(invoice)).statusCode).toBe(412);
    await ok(draft([first]), 201);
    await ok(issue(changed));
  });
});

describe('numbers', () => {
  it('follow each other when two are issued at once, and a failed issue burns none', async () => {
    const one = await ok<Invoice>(draft((await shipped()).ids), 201);
    const two = await ok<Invoice>(draft((await shipped()).ids), 201);
    const three = await ok<Invoice>(draft((await shipped()).ids), 201);
    await db.pool.query(`
      create function fail() returns trigger language plpgsql as $$ begin raise exception 'the disk is full'; end $$;
      create trigger fail before insert on "issued_paper" for each row execute function fail()`);
    expect((await issue(three)).statusCode).toBe(500);
    await db.pool.query('drop trigger fail on "issued_paper"; drop function fail()');
    expect((await read(three.id)).number).toBeNull();
    const pair = await Promise.all([ok<Invoice>(issue(one)), ok<Invoice>(issue(two))]);
    const last = await ok<Invoice>(issue(three));
    const numbers = [...pair, last].map(({ number }) => counted(number)).toSorted((a, b) => a - b);
    expect(numbers[1]).toBe((numbers[0] ?? 0) + 1);
    expect(numbers[2]).toBe((numbers[0] ?? 0) + 2);
    const all = await db.prisma.invoice.findMany({ where: { kind: 'invoice', number: { not: null } } });
    const given = all.map(({ number }) => counted(number)).toSorted((a, b) => a - b);
    expect(given).toEqual(given.map((_, index) => (given[0] ?? 0) + index));
  });

  it('were moved once one was given', async () => {
    await issued((await shipped()).ids);
    const { items } = await ok<{ items: { kind: string; prefix: string; digits: number; next: number }[] }>(
      owner({ url: '/api/number-series' }),
    );
    const change = (kind: string, more: number) => {
      const { prefix = '', digits = 5, next = 1 } = items.find((one) => one.kind === kind) ?? {};
      return owner({
        method: 'PUT',
        url: `/api/number-series/${kind}`,
        payload: { prefix, digits, next: next + more },
      });
    };
    const moved = await change('invoice', 5);
    expect(moved.statusCode).toBe(422);
    expect(moved.json()).toMatchObject({ issues: [{ path: 'next' }] });
    expect((await change('shipment', 5)).statusCode).toBe(200);
    await expect(
      db.pool.query(`update "number_series" set "next" = "next" + 2 where "kind" = 'invoice'`),
    ).rejects.toMatchObject({ code: 'HU001' });
  });
});

describe('a credit note', () => {
  it('gives back by line and then the rest, to the cent, and never more than was invoiced', async () => {
    const { ids } = await shipped();
    const invoice = await issued(ids);
    const [first] = invoice.facts.lines;
    const some = (quantity: number) => ({ lines: [{ lineId: first?.id, quantity }] });
    const over = await credit(invoice.id, some(21));
    expect(over.statusCode).toBe(422);
    expect(over.json()).toMatchObject({ issues: [{ path: 'lines.0.quantity' }] });
    expect((await credit(invoice.id, { lines: [{ lineId: 999_999, quantity: 1 }] })).statusCode).toBe(422);
    const part = await ok<Invoice>(credit(invoice.id, some(7)), 201);
    expect(part).toMatchObject({ kind: 'credit-note', state: 'issued', credits: { id: invoice.id } });
    const racing = await Promise.all([credit(invoice.id, some(13)), credit(invoice.id, some(13))]);
    expect(racing.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 422]);
    const rest = await ok<Invoice>(credit(invoice.id), 201);
    expect((await credit(invoice.id)).statusCode).toBe(409);
    const notes = (await read(invoice.id)).creditNotes;
    expect(notes).toHaveLength(3);
    expect(
      sumOfAmounts(
        notes.map(({ gross }) => gross),
        'EUR',
      ),
    ).toBe(invoice.gross);
    expect(
      sumOfAmounts(
        notes.map(({ net }) => net),
        'EUR',
      ),
    ).toBe(invoice.net);
    expect(await read(invoice.id)).toMatchObject({ state: 'credited', open: '0.00' });
    expect(notes.map(({ number }) => counted(number))).toEqual(
      [1, 2, 3].map((step) => counted(part.number) + step - 1),
    );
    expect((await credit(rest.id)).statusCode).toBe(409);
    const text = (await readPdf((await planner({ url: `/api/invoices/${rest.id}/pdf` })).rawPayload))
      .map((page) => page.text)
      .join(' ');
    for (const words of ['Credit note', invoice.number ?? '', 'wrong order', 'Given back'])
      expect(text).toContain(words);
    await expect(
      db.pool.query(
        `insert into "invoice" ("kind", "customerId", "creditsId", "currency", "paymentDays", "reason", "createdById")
           select 'credit-note', "customerId", "id", "currency", 0, 'x', "createdById" from "invoice" where "id" = ${invoice.id};
         insert into "invoice_line" ("invoiceId", "position", "kind", "orderLineId", "shipmentId", "quantity", "basisTotal", "basisQuantity", "net", "creditsLineId")
           select (select max("id") from "invoice"), 1, "kind", "orderLineId", "shipmentId", 1, 1, 1, 1, "id" from "invoice_line" where "id" = ${first?.id}`,
      ),
    ).rejects.toMatchObject({ code: 'HU001' });
  });

  it('frees what an invoice took wrongly, and only then; it is invoiced anew at the same price', async () => {
    const { ids } = await shipped();
    const wrong = await issued(ids);
    await ok(credit(wrong.id, { frees: true }), 201);
    const anew = await issued(ids);
    expect(anew.net).toBe(wrong.net);
    await ok(credit(anew.id), 201);
    expect((await draft(ids)).statusCode).toBe(409);
  });

  it('is offered for pieces that came back, which nothing invoices any more', async () => {
    const { ids } = await shipped();
    const [first = 0, second = 0] = ids;
    const packages = [
      { shipmentId: first, quantity: 20, kind: 'carton', netKg: null, grossKg: null },
      { shipmentId: second, quantity: 3, kind: 'carton', netKg: null, grossKg: null },
    ];
    const note = await ok<{ id: number }>(
      post(planner, '/delivery-notes', {
        shipmentIds: [first, second],
        packages,
        address: 'Gate 4',
        carrier: '',
        document: '',
        notes: '',
      }),
      201,
    );
    const back = (shipmentId: number, quantity: number) =>
      ok(
        post(planner, `/delivery-notes/${note.id}/returns`, {
          ...{
            shipmentId,
            quantity,
            returnedOn: new Date().toISOString().slice(0, 10),
            reason: 'stains',
            notes: '',
          },
        }),
        201,
      );
    await back(second, 3);
    expect((await draft([second])).statusCode).toBe(409);
    const drafted = await ok<Invoice>(draft([first]), 201);
    await back(first, 2);
    const stale = await issue(drafted);
    expect(stale.statusCode).toBe(409);
    const anew = {
      method: 'PUT' as const,
      url: `/api/invoices/${drafted.id}`,
      payload: body([first]),
      headers: match(drafted.version),
    };
    const saved = await ok<Invoice>(estimator(anew));
    expect(saved.facts.lines).toMatchObject([{ quantity: 18 }]);
    const invoice = await ok<Invoice>(issue(saved));
    await back(first, 5);
    const { left } = await read(invoice.id);
    expect(left).toMatchObject([{ quantity: 18, returned: 5 }]);
    await ok(
      credit(invoice.id, { lines: [{ lineId: left[0]?.lineId, quantity: 5 }], reason: 'came back' }),
      201,
    );
    expect((await read(invoice.id)).left).toMatchObject([{ quantity: 13, returned: 0 }]);
  });
});

it('lists invoices by customer, order, lot, state and words', async () => {
  const { ids, orderId } = await shipped();
  const { id, number } = await issued(ids);
  for (const query of [`orderId=${orderId}`, `search=${number}`]) {
    const { items } = await ok<{ items: Invoice[] }>(estimator({ url: `/api/invoices?${query}` }));
    expect(
      items.map((one) => one.id),
      query,
    ).toEqual([id]);
  }
  const { items } = await ok<{ items: Invoice[] }>(
    estimator({ url: `/api/invoices?state=open&customerId=${shop.customerId}` }),
  );
  expect(items.map((one) => one.id)).toContain(id);
  const found = await ok<{ items: object[] }>(estimator({ url: `/api/search?q=${number}` }));
  expect(found.items).toMatchObject([{ kind: 'invoice', number }]);
});

it('leaves an invoice with whom it was issued to when customers are merged, and takes a draft along', async () => {
  const { ids } = await shipped();
  const [first = 0, ...others] = ids;
  const standing = await issued([first]);
  const { id: draftId } = await ok<Invoice>(draft(others), 201);
  const facts = {
    ...{ name: 'Survivor', currency: 'EUR', taxNumber: '', taxRatePercent: 20, terms: '', notes: '' },
    ...{ contacts: [], addresses: [] },
  };
  const into = await ok<{ id: number }>(post(estimator, '/customers', facts), 201);
  const { version } = await ok<{ version: number }>(estimator({ url: `/api/customers/${shop.customerId}` }));
  await ok(
    post(
      estimator,
      `/customers/${shop.customerId}/merge`,
      { intoId: into.id, reason: 'the same' },
      match(version),
    ),
  );
  expect((await read(draftId)).customer.id).toBe(into.id);
  expect((await read(standing.id)).customer.id).toBe(shop.customerId);
  const { items } = await ok<{ items: Invoice[] }>(estimator({ url: `/api/invoices?customerId=${into.id}` }));
  expect(items.map((one) => one.id)).toEqual(expect.arrayContaining([draftId, standing.id]));
});
