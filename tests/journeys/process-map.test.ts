import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, onto, openShop, picture, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('coupons of one steel become a map that says what is known, what is not and what to run next', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.getByRole('link', { name: 'Colour bench' }).click();
  await page.getByRole('link', { name: 'Process map' }).click();
  const grounds = page.getByLabel('Trials of', { exact: true });
  const steel = grounds.locator('option').filter({ hasText: 'Carbon steel 1075' });
  await steel.waitFor({ state: 'attached' });
  await grounds.selectOption((await steel.getAttribute('value')) ?? '');
  const told = page.getByRole('status').filter({ hasText: 'Comes out' });
  await told.getByText('interference colour', { exact: true }).waitFor();

  // Far from every coupon nothing is claimed, by the slider or by a tap on the picture.
  await page.getByLabel(/^Temperature/).press('End');
  await told
    .getByText(/^untested|dark: black/)
    .first()
    .waitFor();
  const drawn = page.locator('figure svg').first();
  const { width = 0, height = 0 } = (await drawn.boundingBox()) ?? {};
  await drawn.click({ position: { x: width * 0.3, y: height * 0.85 } });
  await told.getByText('nothing', { exact: true }).waitFor();

  for (const layer of ['how sure that is', 'its colour', 'current density', 'protection', 'what comes out'])
    await page.getByRole('radio', { name: layer }).check();
  await look(page, 'process-map');
  await picture(page.locator('figure').first(), 'process-map');
  await expectAccessible(page);

  // The recipe for black gives no interference colour anywhere in its limits; for dark it does.
  const black = page.getByRole('row').filter({ hasText: 'Black on carbon steel' });
  expect(await black.getByRole('cell').nth(2).textContent()).toBe('0 %');
  await page.getByLabel('Wanted', { exact: true }).selectOption('dark: black or grey');
  expect(await black.getByRole('cell').nth(2).textContent()).not.toBe('0 %');
  await black.getByRole('button', { name: /^Look at R-/ }).click();
  await page.getByText(/in the limits of R-\d+\./).waitFor();

  // Another steel beside it on the same axes.
  await page.getByLabel('Beside it', { exact: true }).selectOption({ index: 1 });
  await expect.poll(() => page.locator('figure').count()).toBe(2);
  await look(page, 'process-map-beside');

  const tablet = await onto(page, {});
  await tablet.goto(`${shop.url}/colour-bench/map`);
  await tablet.getByText('Comes out', { exact: true }).waitFor();
  await look(tablet, 'process-map-tablet');
  await expectAccessible(tablet);
});

test('the trial that a map proposes is planned with its figures filled in', async () => {
  const draft = await shop.db.prisma.couponSeries.findFirstOrThrow({ where: { status: 'draft' } });
  const page = await enter({ browser, shop, name: 'lena' });
  await page.goto(`${shop.url}/colour-bench/map?ground=${draft.id}`);
  const proposed = page.locator('section').filter({ hasText: 'Next trial' });
  const [temperature = '', voltage = ''] = ((await proposed.locator('strong').textContent()) ?? '').split(
    ', ',
  );
  await proposed.getByRole('link', { name: `Plan it for ${draft.code}` }).click();
  await page.getByRole('heading', { name: 'Plan a trial' }).waitFor();
  const typed = async (label: string) => Number(await page.getByLabel(label, { exact: true }).inputValue());
  expect(await typed('Temperature (°C)')).toBeCloseTo(Number.parseFloat(temperature), 1);
  expect(await typed('Cell voltage (V)')).toBeCloseTo(Number.parseFloat(voltage), 2);
});
