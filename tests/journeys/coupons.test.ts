import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let lena: Page;
let quentin: Page;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  lena = await enter({ browser, shop, name: 'lena' });
  quentin = await enter({ browser, shop, name: 'quentin', size: 'tablet', dark: true });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** Coupons at 28 V, with more blue the stronger the salt: what a spreadsheet puts on the clipboard. */
const rows = [26.5, 28, 29, 30, 31, 32]
  .map((strength, index) =>
    [
      `P${index + 1}`,
      21,
      28,
      80,
      strength,
      'interference',
      60,
      -40,
      20 - 2 * (strength - 30),
      '2026-03-02',
      'Lena Frost',
    ].join('\t'),
  )
  .join('\n');
const grade5 = (page: Page) => page.getByRole('article').filter({ hasText: 'Titanium grade 5' });
const saltBath = () =>
  shop.db.prisma.bath.findFirstOrThrow({ where: { contents: 'mild-salt', dumpedAt: null } });

test('a colour is untested until coupons are entered by one person and approved by another', async () => {
  const bath = `${shop.url}/lab/baths/${(await saltBath()).id}`;
  await lena.goto(bath);
  await grade5(lena).getByText('No approved coupons of this alloy in mild salt electrolyte').waitFor();
  await expect(grade5(lena).getByText('untested').isVisible()).resolves.toBe(true);
  expect(await grade5(lena).textContent()).not.toContain('ΔE');

  await lena.getByRole('link', { name: 'Coupons in this kind of bath' }).click();
  await lena.getByRole('link', { name: 'TI-5-TSP' }).click();
  await lena.getByText('You edited this draft, so somebody else must approve it.').waitFor();
  await lena.getByRole('link', { name: 'Edit draft' }).click();
  await lena.getByText('Paste rows from a spreadsheet').click();
  await lena.getByLabel('Rows').fill(rows.replace('interference', 'green'));
  await lena.getByRole('button', { name: 'Add these rows' }).click();
  await lena.getByText('line 1, outcome: must be one of none, interference').waitFor();
  expect(await lena.getByRole('group', { name: /^Coupon \d/ }).count()).toBe(3);
  await lena.getByLabel('Rows').fill(rows);
  await lena.getByRole('button', { name: 'Add these rows' }).click();
  await lena.getByRole('group', { name: 'Coupon 9' }).waitFor();
  // The three that were tried first are of another lot of metal.
  for (let left = 3; left > 0; left -= 1)
    await lena.getByRole('button', { name: 'Remove coupon 1', exact: true }).click();
  await expectAccessible(lena);
  await lena.getByRole('button', { name: 'Save draft' }).click();
  await lena.getByRole('row', { name: /^P6/ }).waitFor();
  await lena.goto(bath);
  await grade5(lena).getByText('untested').waitFor();

  await quentin.goto(`${shop.url}/lab/coupons?search=TI-5-TSP`);
  await quentin.getByRole('link', { name: 'TI-5-TSP' }).click();
  await quentin.getByRole('button', { name: 'Approve' }).click();
  await quentin.getByRole('dialog').getByRole('button', { name: 'Approve' }).click();
  await quentin.getByText('approved', { exact: true }).first().waitFor();
  await expectAccessible(quentin);
  expect(await quentin.getByRole('link', { name: 'Edit draft' }).count()).toBe(0);

  await lena.goto(bath);
  await grade5(lena)
    .getByText(/6 measured coupons nearby/)
    .waitFor();
  await grade5(lena).getByTitle('How this figure is calculated').click();
  await lena.getByRole('dialog').getByText('TI-5-TSP rev 1').waitFor();
  await expectAccessible(lena);
});

test('retired coupons say nothing any more', async () => {
  const series = await shop.db.prisma.couponSeries.findFirstOrThrow({ where: { code: 'TI-5-TSP' } });
  await quentin.goto(`${shop.url}/lab/coupons/${series.id}`);
  await quentin.getByRole('button', { name: 'More' }).click();
  await quentin.getByRole('menuitem', { name: 'Retire' }).click();
  await quentin.getByRole('dialog').getByLabel('Reason').fill('another lot of metal');
  await quentin.getByRole('dialog').getByRole('button', { name: 'Retire' }).click();
  await quentin.getByText('another lot of metal').first().waitFor();
  await quentin.goto(`${shop.url}/lab/baths/${(await saltBath()).id}`);
  await grade5(quentin).getByText('untested').waitFor();
  expect(await grade5(quentin).textContent()).not.toContain('ΔE');
});
