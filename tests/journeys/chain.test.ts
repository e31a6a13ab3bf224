import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let page: Page;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  page = await enter({ browser, shop, name: 'quentin' });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('quality checks the record, seals it, and is shown the first broken place of one that was altered', async () => {
  await page.getByRole('link', { name: 'Audit trail' }).click();
  await page.getByRole('link', { name: 'Chain of the record' }).click();
  await page.getByRole('button', { name: 'Check now' }).click();
  await page.getByText('The record is whole').waitFor();
  await page.getByRole('button', { name: 'Seal now' }).click();
  const seal = page.locator('td code').first();
  await expect.poll(() => seal.textContent()).toMatch(/^\d+-[0-9a-f]{64}$/);
  const kept = (await seal.textContent()) ?? '';
  const href = (await page.getByRole('link', { name: /\(PDF\)/ }).getAttribute('href')) ?? '';
  expect((await page.request.get(shop.url + href)).headers()['content-type']).toBe('application/pdf');

  await page.getByLabel('Seal kept elsewhere').fill('12-none');
  await page.getByRole('button', { name: 'Check now' }).click();
  await page.getByText('must hold one seal').first().waitFor();
  await page.getByLabel('Seal kept elsewhere').fill(kept);
  await page.getByRole('button', { name: 'Check now' }).click();
  await page.getByText('and with the seal that was given').waitFor();
  await look(page, 'chain-whole');

  await shop.db.pool.query(`alter table "traveler" disable trigger all`);
  await shop.db.pool.query(`update "traveler" set "quantity" = "quantity" + 1 where "id" = 1`);
  await shop.db.pool.query(`alter table "traveler" enable trigger all`);
  await page.getByRole('button', { name: 'Check now' }).click();
  await page.getByText('One place is not as it was chained').waitFor();
  await page.getByText(/First broken place: traveler 1 \(T-\d+ revision 1\) was changed/).waitFor();
  await expectAccessible(page);
  await look(page, 'chain-altered');
});
