import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { en16931Faults } from '../support/en16931.ts';
import { readPdf } from '../support/pdf.ts';
import { enter, expectAccessible, look, onto, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const heading = (page: Page, name: string) => page.getByRole('heading', { name, exact: true }).waitFor();
const download = async (page: Page, suffix: string) => {
  const place = new URL(page.url()).pathname;
  const reply = await page.context().request.get(`${shop.url}/api${place}${suffix}`);
  expect(reply.status()).toBe(200);
  return reply.body();
};

test('an estimator invoices what was shipped, credits a part of it, and books what was paid', async () => {
  const edgar = await enter({ browser, shop, name: 'edgar' });
  await edgar.getByRole('region', { name: /^Overdue invoices/ }).waitFor();
  await edgar.goto(`${shop.url}/invoices`);
  await heading(edgar, 'Shipped and not invoiced');
  await expectAccessible(edgar);
  await look(edgar, 'invoices');

  await edgar
    .getByRole('list')
    .getByRole('link')
    .and(edgar.locator('[href^="/invoices/new"]'))
    .first()
    .click();
  await edgar.getByRole('heading', { name: /^Invoice for / }).waitFor();
  await edgar.getByLabel(/^Notes/).fill('With thanks for the quick order.');
  await expectAccessible(edgar);
  await look(edgar, 'invoice-new');
  await edgar.getByRole('button', { name: 'Draft invoice' }).click();
  await heading(edgar, 'Draft invoice');
  await edgar.getByText('With thanks for the quick order.').waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'invoice-draft');
  await edgar.getByRole('button', { name: 'Issue', exact: true }).click();
  await edgar.getByRole('button', { name: 'Issue invoice' }).click();
  await heading(edgar, 'Invoice');
  await edgar
    .getByText(/^INV-\d+$/)
    .first()
    .waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'invoice');
  expect((await readPdf(await download(edgar, '/pdf'))).map(({ text }) => text).join(' ')).toContain(
    'To pay',
  );
  expect(await en16931Faults((await download(edgar, '/ubl')).toString())).toEqual([]);
  const invoiceUrl = edgar.url();

  await edgar.getByRole('button', { name: 'Credit', exact: true }).click();
  const crediting = edgar.getByRole('dialog');
  await crediting.getByLabel('All that is left of the invoice').uncheck();
  await crediting
    .getByLabel(/^Pieces of /)
    .first()
    .fill('1');
  await crediting.getByLabel('Reason').fill('one piece was scratched on the way');
  await crediting.getByRole('button', { name: 'Issue credit note' }).click();
  await heading(edgar, 'Credit note');
  await edgar.getByText('one piece was scratched on the way').first().waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'credit-note');
  expect(await en16931Faults((await download(edgar, '/ubl')).toString())).toEqual([]);

  await edgar.goto(invoiceUrl);
  await heading(edgar, 'Credit notes');
  await edgar.getByRole('button', { name: 'Paid', exact: true }).click();
  const paying = edgar.getByRole('dialog');
  await paying.getByLabel(/^Amount/).fill('999999');
  await paying.getByRole('button', { name: 'Book payment' }).click();
  await paying
    .getByText(/^Is more than the/)
    .first()
    .waitFor();
  await paying.getByLabel(/^Amount/).fill('1.50');
  await paying.getByLabel(/^Reference/).fill('cash at the gate');
  await paying.getByRole('button', { name: 'Book payment' }).click();
  await edgar.getByText('cash at the gate').waitFor();
  await expectAccessible(edgar);
}, 240_000);

test('a list of the bank pays what is overdue, once', async () => {
  const edgar = await enter({ browser, shop, name: 'edgar' });
  await edgar.goto(`${shop.url}/invoices?state=overdue`);
  const row = edgar.getByRole('row').filter({ hasText: 'overdue' }).first();
  const number = (await row.getByRole('link').innerText()).trim();
  const open = (await row.locator('td').nth(5).innerText()).replaceAll(/[^\d.]/g, '');
  const csv = `Datum;Betrag;Name;Zweck\n24.11.2026;${open.replace('.', ',')};Somebody;thanks ${number}\n25.11.2026;-12,00;Landlord;rent`;
  const list = { name: 'bank.csv', mimeType: 'text/csv', buffer: Buffer.from(csv) };
  await edgar.goto(`${shop.url}/invoices`);
  await edgar.getByRole('link', { name: 'Payments from the bank' }).click();
  await edgar.locator('input[type=file]').setInputFiles(list);
  await edgar.getByRole('button', { name: 'Find invoices' }).click();
  await edgar.getByText('Number and amount fit', { exact: false }).waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'bank');
  await edgar.getByRole('button', { name: 'Book one payment' }).click();
  await heading(edgar, 'Invoices');
  await edgar.getByRole('link', { name: 'Payments from the bank' }).click();
  await edgar.locator('input[type=file]').setInputFiles(list);
  await edgar.getByRole('button', { name: 'Find invoices' }).click();
  await edgar.getByText(`Booked on ${number} already`).waitFor();
}, 240_000);

test('whoever may see prices reads invoices on a tablet, and nobody else', async () => {
  const petra = await enter({ browser, shop, name: 'petra' });
  const tablet = await onto(petra, { dark: true });
  await tablet.goto(`${shop.url}/invoices`);
  await tablet.getByRole('link', { name: /^INV-/ }).first().waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'invoices-tablet-dark');
  await tablet.getByRole('link', { name: /^INV-/ }).first().click();
  await heading(tablet, 'Lines');
  await expectAccessible(tablet);
  await look(tablet, 'invoice-tablet-dark');
  expect(await tablet.getByRole('button', { name: 'Credit', exact: true }).count()).toBe(0);
}, 240_000);
