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

test('a target colour is matched on the strip, by the literature and by the shop’s own coupons', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.getByRole('link', { name: 'Colour bench' }).click();
  const strip = page.getByRole('slider', { name: 'Voltage' });
  const said = async () => (await strip.getAttribute('aria-valuetext')) ?? '';
  await strip.focus();
  await page.keyboard.press('Home');
  expect(await said()).toMatch(/^0\.0 V: .*order 1/);
  await page.keyboard.press('PageUp');
  await page.keyboard.press('ArrowRight');
  expect(await said()).toMatch(/^5\.1 V/);
  const law = page.getByLabel('Law', { exact: true });
  // The calibration of the shop comes first.
  await page.getByText(/, approved by Quentin Hale\.$/).waitFor();
  await law.selectOption('nominal');
  await page.getByText('Nominal, out of the literature', { exact: true }).waitFor();

  // The deep blue that a 50 nm film has by the published constants: 21.8 V at 2.2 nm per volt on the film that air forms.
  for (const [label, figure] of [
    ['L*', '42.9'],
    ['a*', '9.1'],
    ['b*', '-42.1'],
  ] as const)
    await page.getByLabel(label, { exact: true }).fill(figure);
  await page.getByText(/not shown: no coupons stand on both sides/).waitFor();
  await page.getByLabel('Also outside the coupons').check();
  const best = page.getByRole('row').filter({ hasText: '21.8 V' });
  await best.getByRole('button', { name: 'Read 21.8 V' }).click();
  expect(await said()).toMatch(/^21\.8 V: .* 50 nm, order 1/);
  await look(page, 'colour-bench');
  await picture(page.locator('section').filter({ has: strip }), 'colour-strip');
  await expectAccessible(page);

  // A grass green as no film of titanium has it.
  await page.getByLabel('b*', { exact: true }).fill('60');
  await page.getByLabel('a*', { exact: true }).fill('-60');
  await page.getByText(/No voltage comes within dE 3\./).waitFor();

  const fitted = await law.locator('option').filter({ hasText: 'fitted to' }).first().getAttribute('value');
  await law.selectOption(fitted);
  await page.getByText(/^Coupons against the law, \d+$/).click();
  await page.getByText(/nm per volt, .*\(95 %\)/).waitFor();

  const tablet = await onto(page, {});
  await tablet.goto(`${shop.url}/colour-bench`);
  await tablet.getByRole('slider', { name: 'Voltage' }).waitFor();
  await look(tablet, 'colour-bench-tablet');
  await expectAccessible(tablet);
});
