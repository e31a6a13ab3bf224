import type { BankPreview, Invoice, InvoiceSums, Lot, LotSummary } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';

const line = await mainLine();
const { db, planner, operator, quality, estimator } = line;
const today = new Date().toISOString().slice(0, 10);

/** Shipments of a new order, enough for as many invoices as a test needs. */
let free: number[] = [];
async function ship(): Promise<void> {
  const lots = (await line.releasedLots()) as [LotSummary, LotSummary];
  for (const { id } of lots) {
    await line.signAll(id);
    const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
    await ok(post(quality, `/lots/${id}/final-check`, check), 201);
    for (let piece = 0; piece < 8; piece += 1) {
      const shipment = { quantity: 3, carrier: '', document: '', notes: '' };
      const lot = await ok<Lot>(post(planner, `/lots/${id}/shipments`, shipment), 201);
      free.push(Math.max(...lot.shipments.map((one) => one.id)));
    }
  }
}
beforeAll(ship);
const match = (version: number) => ({ 'if-match': `"${version}"` });
async function issued(): Promise<Invoice> {
  const [id, ...others] = free;
  free = others;
  const body = { shipmentIds: [id], prices: [], paymentDays: 30, notes: '' };
  const { id: invoiceId, version } = await ok<Invoice>(post(estimator, '/invoices', body), 201);
  return ok<Invoice>(post(estimator, `/invoices/${invoiceId}/issue`, {}, match(version)));
}
const pay = (id: number, extra: object, ask = estimator) =>
  post(ask, `/invoices/${id}/payments`, { paidOn: today, reference: '', moreThanOpen: false, ...extra });
const read = (id: number) => ok<Invoice>(estimator({ url: `/api/invoices/${id}` }));

describe('a payment', () => {
  it('is booked in parts, taken back with a reason, and never more than is open by a slip', async () => {
    const { id, gross } = await issued();
    const rest = (Number(gross) - 1.5).toFixed(2);
    expect((await pay(id, { amount: `${gross.replace('.', '')}0` })).json()).toMatchObject({
      issues: [{ path: 'amount' }],
    });
    for (const amount of ['0', '1.234', 'NaN', '1,5', ''])
      expect((await pay(id, { amount })).statusCode, amount).toBe(422);
    expect((await pay(id, { amount: '1', paidOn: '2999-01-01' })).statusCode).toBe(422);
    expect((await pay(id, { amount: '-1' })).statusCode).toBe(422);
    for (const ask of [planner, operator]) expect((await pay(id, { amount: '1' }, ask)).statusCode).toBe(403);
    const part = await ok<Invoice>(pay(id, { amount: '1.5', reference: 'cheque 9' }), 201);
    expect(part).toMatchObject({
      state: 'open',
      open: rest,
      payments: [{ amount: '1.50', reference: 'cheque 9' }],
    });
    expect(await ok<Invoice>(pay(id, { amount: rest }), 201)).toMatchObject({ state: 'paid', open: '0.00' });
    const [first] = part.payments;
    const back = () => post(estimator, `/payments/${first?.id}/withdrawal`, { reason: 'another customer’s' });
    expect(await ok<Invoice>(back())).toMatchObject({ state: 'open', open: '1.50' });
    expect((await back()).statusCode).toBe(409);
    for (const statement of [
      `update "payment" set "amount" = 1 where "id" = ${first?.id}`,
      `delete from "payment" where "id" = ${first?.id}`,
    ])
      await expect(db.pool.query(statement)).rejects.toMatchObject({ code: 'HU001' });
  });

  it('of two at once was booked twice', async () => {
    const { id, gross } = await issued();
    const replies = await Promise.all([pay(id, { amount: gross }), pay(id, { amount: gross })]);
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 422]);
  });

  it('is paid back where an invoice was credited after it was paid', async () => {
    const { id, gross } = await issued();
    await ok(pay(id, { amount: gross }), 201);
    await ok(
      post(estimator, `/invoices/${id}/credit-notes`, { lines: null, reason: 'stains', frees: false }),
      201,
    );
    expect((await read(id)).open).toBe(`-${gross}`);
    expect((await pay(id, { amount: `-${Number(gross) + 1}` })).statusCode).toBe(422);
    expect((await ok<Invoice>(pay(id, { amount: `-${gross}` }), 201)).open).toBe('0.00');
  });

  it('makes an invoice overdue by its day, and the sums say how much', async () => {
    const { id, open } = await issued();
    const before = await ok<InvoiceSums>(estimator({ url: '/api/invoice-sums' }));
    await db.pool.query('alter table "invoice" disable trigger invoice_frozen');
    await db.pool.query(`update "invoice" set "dueOn" = current_date - 3 where "id" = ${id}`);
    await db.pool.query('alter table "invoice" enable trigger invoice_frozen');
    expect((await read(id)).state).toBe('overdue');
    const { items } = await ok<InvoiceSums>(estimator({ url: '/api/invoice-sums' }));
    expect(items[0]?.overdueCount).toBe((before.items[0]?.overdueCount ?? 0) + 1);
    expect(items[0]?.open).toBe(before.items[0]?.open);
    const { sections } = await ok<{
      sections: { key: string; items: { page: { id: number }; detail: string }[] }[];
    }>(estimator({ url: '/api/today' }));
    const late = sections
      .find(({ key }) => key === 'overdueInvoices')
      ?.items.find(({ page }) => page.id === id);
    expect(late?.detail).toContain(open);
    const other = await ok<{ sections: { key: string }[] }>(planner({ url: '/api/today' }));
    expect(other.sections.map(({ key }) => key)).not.toContain('overdueInvoices');
  });
});

describe('a list of the bank', () => {
  const mapping = {
    ...{ paidOn: 'Day', amount: 'Amount', texts: ['Payer', 'Text'], dayOrder: 'day-month-year' },
    ...{ decimal: 'comma', separator: 'semicolon', currency: 'EUR' },
  };
  const comma = (amount: string) => amount.replace('.', ',');
  const listOf = (...lines: string[]) => ['Day;Amount;Payer;Text', ...lines].join('\n');
  const preview = (csv: string, extra: object = {}) =>
    ok<BankPreview>(post(estimator, '/bank-lines/preview', { csv, mapping: { ...mapping, ...extra } }));
  const book = (csv: string, bookings: object[]) =>
    post(estimator, '/bank-lines', { csv, mapping, bookings });

  it('finds invoices by number and amount, books nothing until confirmed, and a line once', async () => {
    const [one, two, three] = [await issued(), await issued(), await issued()];
    const spaced = (one.number ?? '').replace('-', ' ').toLowerCase();
    const csv = listOf(
      `05.11.2026;${comma(one.gross)};Row & Co;Inv. ${spaced} thanks`,
      `05.11.2026;1,00;Row & Co;part of ${two.number}`,
      `05.11.2026;-12,00;Landlord;rent`,
      `05.11.2026;4.321,09;Somebody;no number`,
      `05.11.2026;9,99;Row & Co;${three.number}1 is another`,
    );
    const seen = await preview(csv);
    expect(seen).toMatchObject({ leftOut: 1, faultCount: 0 });
    expect(seen.lines.map(({ match: how, invoice }) => [how, invoice?.id])).toEqual([
      ['number-and-amount', one.id],
      ['number', two.id],
      [null, undefined],
      [null, undefined],
    ]);
    expect(seen.lines[2]?.amount).toBe('4321.09');
    expect(await db.prisma.payment.count({ where: { invoiceId: one.id } })).toBe(0);
    const bookings = seen.lines
      .slice(0, 2)
      .map(({ key, invoice }) => ({ key, invoiceId: invoice?.id, moreThanOpen: false }));
    expect(await ok(book(csv, bookings), 201)).toEqual({ booked: 2 });
    expect(await read(one.id)).toMatchObject({
      state: 'paid',
      payments: [{ paidOn: '2026-11-05', fromBank: true }],
    });
    const again = await preview(csv);
    expect(again.lines.slice(0, 2).map(({ bookedOn }) => bookedOn)).toEqual([one.number, two.number]);
    expect((await book(csv, bookings.slice(1))).statusCode).toBe(409);
    expect(await db.prisma.payment.count({ where: { invoiceId: two.id } })).toBe(1);
  });

  it('of the same line was booked twice by two at once, or by the database itself', async () => {
    const { id, number } = await issued();
    const csv = listOf(`06.11.2026;1,00;Row;${number}`);
    const [seen] = (await preview(csv)).lines;
    const bookings = [{ key: seen?.key, invoiceId: id, moreThanOpen: false }];
    const replies = await Promise.all([book(csv, bookings), book(csv, bookings)]);
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 409]);
    await expect(
      db.pool.query(`insert into "payment" ("invoiceId", "amount", "paidOn", "bankKey", "recordedById")
        select "invoiceId", "amount", "paidOn", "bankKey", "recordedById" from "payment" where "bankKey" = '${seen?.key}'`),
    ).rejects.toThrow('payment_bank_once');
    const payment = await db.prisma.payment.findFirstOrThrow({ where: { bankKey: seen?.key ?? '' } });
    await ok(post(estimator, `/payments/${payment.id}/withdrawal`, { reason: 'slip' }));
    await ok(book(csv, bookings), 201);
  });

  it('tells two payments of a day that say the same apart', async () => {
    const { id, number } = await issued();
    const csv = listOf(`07.11.2026;1,00;Row;${number}`, `07.11.2026;1,00;Row;${number}`);
    const { lines } = await preview(csv);
    expect(new Set(lines.map(({ key }) => key)).size).toBe(2);
    await ok(
      book(
        csv,
        lines.map(({ key }) => ({ key, invoiceId: id, moreThanOpen: false })),
      ),
      201,
    );
    expect((await read(id)).payments).toHaveLength(2);
  });

  it('books all that is named or none, and no amount but the bank’s', async () => {
    const [one, two] = [await issued(), await issued()];
    const csv = listOf(`08.11.2026;1,00;Row;${one.number}`, `08.11.2026;99999,00;Row;${two.number}`);
    const { lines } = await preview(csv);
    const bookings = lines.map(({ key, invoice }) => ({ key, invoiceId: invoice?.id, moreThanOpen: false }));
    const reply = await book(csv, bookings);
    expect(reply.statusCode).toBe(422);
    expect(reply.json()).toMatchObject({ issues: [{ path: 'bookings.1.amount' }] });
    expect((await read(one.id)).payments).toEqual([]);
    expect((await book(csv, [{ ...bookings[0], key: 'made up' }])).statusCode).toBe(422);
    expect((await book(csv, [{ ...bookings[0], invoiceId: 999_999 }])).statusCode).toBe(422);
  });

  it.each([
    ['1.234,56', 'comma', '1234.56'],
    ['1 234,56', 'comma', '1234.56'],
    ['1,234.56', 'point', '1234.56'],
    ['+12.5', 'point', '12.50'],
    ['1,5', 'point', null],
    ['1.5', 'comma', null],
    ['1.23.4', 'comma', null],
    ['12,345', 'comma', null],
    ['', 'comma', null],
  ])('reads %s with a decimal %s as %s', async (text, decimal, amount) => {
    const csv = `Day;Amount;Payer;Text\n2026-11-09;${text};Row;x`;
    const { lines, faults } = await preview(csv, { decimal, dayOrder: 'year-month-day' });
    expect(lines.map((row) => row.amount)).toEqual(amount === null ? [] : [amount]);
    expect(faults).toHaveLength(amount === null ? 1 : 0);
  });

  it('names a column that is not there, and a day that is none', async () => {
    const reply = await post(estimator, '/bank-lines/preview', {
      csv: listOf(),
      mapping: { ...mapping, amount: 'Sum' },
    });
    expect(reply.json()).toMatchObject({ issues: [{ path: 'mapping.amount' }] });
    expect((await preview(listOf('31.02.2026;1,00;Row;x'))).faults).toMatchObject([
      { line: 2, column: 'Day' },
    ]);
  });
});

it('gives the books a period: invoices, credit notes and payments, and no formula', async () => {
  await db.prisma.customer.updateMany({ data: { name: '=cmd|calc' } });
  const { id, number, gross } = await issued();
  await ok(pay(id, { amount: '1.00', reference: '=1+1' }), 201);
  const note = await ok<Invoice>(
    post(estimator, `/invoices/${id}/credit-notes`, { lines: null, reason: 'x', frees: false }),
    201,
  );
  const csv = (await estimator({ url: `/api/accounting.csv?from=${today}&to=${today}` })).body;
  const rows = csv.split('\r\n').filter((row) => row.includes(number ?? ''));
  expect(rows).toHaveLength(3);
  expect(rows.find((row) => row.includes(',invoice,'))).toContain(`,${Number(gross)},`);
  expect(rows.find((row) => row.includes(note.number ?? ''))).toContain(`,-${Number(gross)},`);
  expect(rows.find((row) => row.includes('payment'))).toContain("'=1+1");
  expect(csv).toContain("'=cmd|calc");
  const empty = (await estimator({ url: '/api/accounting.csv?from=2020-01-01&to=2020-12-31' })).body;
  expect(empty.trim().split('\r\n')).toHaveLength(1);
  expect((await estimator({ url: `/api/accounting.csv?from=${today}&to=2020-01-01` })).statusCode).toBe(422);
  expect((await operator({ url: `/api/accounting.csv?from=${today}&to=${today}` })).statusCode).toBe(403);
});
