import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});
const named = (role: string) => shop.people.find((person) => person.role === role)?.name ?? '';

test('eleven rows filled a desk: dense lists show eighteen, and the choice is kept', async () => {
  const page = await enter({ browser, shop, name: named('planner') });
  await page.goto(`${shop.url}/account`);
  await page.getByRole('radio', { name: 'Dense' }).check();
  await page.locator('html[data-density="dense"]').waitFor();
  await page.goto(`${shop.url}/lots`);
  await page.getByRole('table', { name: 'Lots' }).waitFor();
  const rows = await page.evaluate(
    () =>
      [...document.querySelectorAll('tbody tr')].filter(
        (row) => row.getBoundingClientRect().bottom <= window.innerHeight,
      ).length,
  );
  expect(rows).toBeGreaterThanOrEqual(18);
  await expectAccessible(page);
  await look(page, 'lots-dense');
  await page.context().close();
}, 120_000);

test('Back lost the rows that were shown: it comes to the same row', async () => {
  const page = await enter({ browser, shop, name: named('planner') });
  await page.goto(`${shop.url}/lots`);
  const rows = page.getByRole('table', { name: 'Lots' }).locator('tbody tr');
  const showMore = page.getByRole('button', { name: 'Show more' });
  // The rows are there once it is; before that they would be counted as none.
  await showMore.waitFor();
  const before = await rows.count();
  await showMore.click();
  await expect.poll(() => rows.count(), { timeout: 20_000 }).toBeGreaterThan(before);
  const shown = await rows.count();
  await rows
    .nth(before + 2)
    .getByRole('link')
    .first()
    .click();
  await page.waitForURL(/\/lots\/\d+$/);
  await page.goBack();
  await rows.nth(before + 2).waitFor();
  expect(await rows.count()).toBe(shown);
  await page.context().close();
}, 120_000);

test('a dialog said what was wrong at its foot by the name of the API: it says so at the field', async () => {
  const page = await enter({ browser, shop, name: named('quality') });
  const lot = await shop.db.prisma.lot.findFirstOrThrow({ where: { status: 'running', held: false } });
  await page.goto(`${shop.url}/lots/${lot.id}`);
  await page.getByRole('button', { name: 'Put on hold' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Put on hold' }).click();
  await dialog.getByText('Must be filled in').waitFor();
  const why = dialog.getByLabel('Why');
  expect(await why.getAttribute('aria-invalid')).toBe('true');
  expect(await dialog.getByText(/reason:/).count()).toBe(0);
  await why.fill('scratched');
  await expect.poll(() => why.getAttribute('aria-invalid')).toBeNull();
  await page.context().close();
}, 120_000);

test('a half-written recipe could not be saved: it is kept, and continued from Today', async () => {
  const page = await enter({ browser, shop, name: named('lab') });
  await page.goto(`${shop.url}/recipes/new`);
  await page.getByLabel('Name', { exact: true }).fill('Dusk violet');
  await page.getByRole('button', { name: 'Keep half-written' }).click();
  await page.getByRole('heading', { name: 'Half-written' }).waitFor();
  await page.getByRole('link', { name: /New recipe/ }).click();
  await page.getByText('You kept this form half-written').waitFor();
  expect(await page.getByLabel('Name', { exact: true }).inputValue()).toBe('');
  await page.getByRole('button', { name: 'Continue with it' }).click();
  await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Dusk violet');
  await look(page, 'half-written');
  await page.context().close();
}, 120_000);

test('a form of three screens had no way to its parts: an index stays in view', async () => {
  const page = await enter({ browser, shop, name: named('estimator') });
  await page.goto(`${shop.url}/parts/new`);
  const index = page.getByRole('navigation', { name: 'Sections of this form' });
  await index.getByRole('link', { name: 'Surfaces and handling' }).click();
  const heading = page.getByRole('heading', { name: 'Surfaces and handling' });
  await expect
    .poll(async () => (await heading.boundingBox())?.y ?? Infinity, { timeout: 5000 })
    .toBeLessThan(300);
  expect((await index.boundingBox())?.y).toBeLessThan(10);
  await expectAccessible(page);
  await look(page, 'part-index');
  await page.context().close();
}, 120_000);
