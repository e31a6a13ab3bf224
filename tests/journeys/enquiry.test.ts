import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
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

test('a colour was promised from memory: an enquiry leads over what we can make to its quotation', async () => {
  const page = await enter({ browser, shop, name: 'edgar' });
  const customer = await shop.db.prisma.customer.findFirstOrThrow({
    where: { name: 'Falkenau Cycle Works' },
  });
  const material = await shop.db.prisma.material.findFirstOrThrow({
    where: { name: 'Titanium grade 5, Ti-6Al-4V' },
  });
  await page.goto(`${shop.url}/customers/${customer.id}`);
  await page.getByRole('link', { name: 'New enquiry' }).click();
  await page.getByLabel('What they ask').fill('Sixty clamps in a deep blue');
  await page.getByLabel('Colour in words').fill('deep blue');
  for (const [axis, value] of Object.entries({ L: 43, a: 9, b: -42 }))
    await page.getByLabel(`${axis}*`, { exact: true }).fill(String(value));
  await page.getByLabel('Material').selectOption(String(material.id));
  await page.getByLabel('Pieces wanted').fill('60');
  await expectAccessible(page);
  await look(page, 'enquiry-form');
  await page.getByRole('button', { name: 'Save enquiry' }).click();
  await page.waitForURL(/\/enquiries\/\d+$/);
  await page.getByRole('heading', { name: 'Near what we can make' }).waitFor();
  await expectAccessible(page);
  await look(page, 'enquiry');

  await page.getByRole('link', { name: 'All of them' }).click();
  await page.getByRole('table', { name: 'Colours' }).waitFor();
  await page.getByText('proved on it').first().waitFor();
  await expectAccessible(page);
  await look(page, 'colours');
  const dark = await onto(page, { size: 'tablet', dark: true });
  await dark.goto(`${shop.url}/colours`);
  await dark.getByRole('table', { name: 'Colours' }).waitFor();
  await look(dark, 'colours-dark');
  await dark.context().close();
  await page.goBack();

  await page
    .getByRole('link', { name: /^Quote/ })
    .first()
    .click();
  await page.getByText(/Answers enquiry E-/).waitFor();
  await page.getByRole('button', { name: 'Choose from what we can make' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByText('proved on it').first().waitFor();
  await expectAccessible(page);
  await look(page, 'choose-a-colour');
  await dialog
    .getByRole('button', { name: /^Choose/ })
    .first()
    .click();
  expect(await page.getByLabel('Quantities').inputValue()).toBe('60');
  await page.getByRole('button', { name: 'Save draft' }).click();
  await page.waitForURL(/\/quotations\/\d+$/);
  await page.getByRole('link', { name: /^E-\d{5}$/ }).click();
  await page.getByText('quoted', { exact: true }).first().waitFor();
  await page.context().close();
}, 180_000);
