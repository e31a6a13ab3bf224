import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { samePixel } from '../support/exposure.ts';
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

test('specimens are looked at every day: Today says so, the camera is at hand, and a missed day stays missed', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.goto(`${shop.url}/today`);
  await page.getByRole('link', { name: /6 specimens to look at today/ }).click();
  await page.getByRole('heading', { name: 'Black of R-00005 in tap water' }).waitFor();
  await page.getByText('Nobody looked', { exact: true }).waitFor();
  expect(await page.getByText('missed', { exact: true }).count()).toBe(6);
  await page
    .getByText(/Specimens without corrosion/)
    .first()
    .waitFor();
  await look(page, 'exposure-running');
  await picture(page.getByRole('region', { name: 'Pictures by day' }), 'exposure-strip');
  await expectAccessible(page);

  await page.getByRole('button', { name: /^Look at W4, / }).click();
  await page.getByRole('radio', { name: 'Corroded area' }).check();
  await page.getByLabel('Corroded area (%)').fill('0.4');
  await page.getByText('Rating 7 of 10').waitFor();
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'w4.png', mimeType: 'image/png', buffer: samePixel });
  await page.getByRole('link', { name: 'w4.png' }).waitFor();
  await page.getByRole('button', { name: 'Keep observation' }).click();
  // Smaller than the day before, and no word why.
  await page.getByText(/metal does not heal/).waitFor();
  await look(page, 'exposure-look');
  await expectAccessible(page);
  await page.getByLabel('Corroded area (%)').fill('11');
  await page.getByRole('button', { name: 'Keep observation' }).click();
  await page
    .getByRole('button', { name: /^W4, .*open what was seen/ })
    .nth(4)
    .click();
  await page.getByText(/^Corroded area 11 %, rating 2/).waitFor();
  await page.getByRole('button', { name: 'Correct' }).click();
  await page.getByLabel('Corroded area (%)').fill('10');
  await page.getByLabel('Reason').fill('counted twice at the edge');
  await page.getByRole('button', { name: 'Keep correction' }).click();
  await page.getByText('corrected', { exact: true }).waitFor();
  const kept = await shop.db.prisma.exposureCorrection.findFirstOrThrow({ include: { observation: true } });
  expect([kept.observation.defectAreaPercent, kept.defectAreaPercent]).toEqual([11, 10]);

  const tablet = await onto(page, {});
  await tablet.goto(page.url());
  await tablet.getByText('Nobody looked', { exact: true }).waitFor();
  await tablet.getByRole('button', { name: /^Look at W5, / }).click();
  expect(await tablet.locator('input[type=file]').getAttribute('capture')).toBe('environment');
  await tablet.getByRole('button', { name: 'Keep observation' }).click();
  await tablet
    .getByRole('button', { name: /^W5, .*open what was seen/ })
    .nth(4)
    .waitFor();
  await look(tablet, 'exposure-tablet');
  await expectAccessible(tablet);
});

test('a salt spray that ended says what it says of that steel, oil and wax, and what its chamber did', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.getByRole('link', { name: 'Colour bench' }).click();
  await page.getByRole('link', { name: 'Exposure tests' }).click();
  await page.getByText('chamber was outside').waitFor();
  await look(page, 'exposure-tests');
  await expectAccessible(page);
  await page
    .getByRole('row', { name: /salt spray/ })
    .getByRole('link')
    .first()
    .click();
  await page.getByText(/The result is frozen/).waitFor();
  await page.getByText(/Temperature 37.8 °C/).waitFor();
  await page
    .getByText(/nozzle blocked, chamber open/)
    .first()
    .waitFor();
  await page.getByText(/S6: between 24 h and 48 h/).waitFor();
  await look(page, 'exposure-ended');
  await expectAccessible(page);
  await page
    .getByRole('link', { name: /^R-00005/ })
    .first()
    .click();
  await page.getByRole('tab', { name: /Evidence/ }).click();
  await page
    .getByRole('link', { name: /ET-\d+/ })
    .first()
    .click();
  await page.getByRole('heading', { name: /in tap water|in salt spray/ }).waitFor();
});

test('a test is planned with a bare specimen beside an oiled one, started, interrupted and ended', async () => {
  const page = await enter({ browser, shop, name: 'quentin' });
  await page.goto(`${shop.url}/colour-bench/exposure/new`);
  await page.getByLabel('Name', { exact: true }).fill('a new oil');
  await page.getByLabel('Kind').selectOption({ label: 'Neutral salt spray (NSS)' });
  await page.getByLabel('Medium').fill('5 % NaCl');
  await page.getByLabel('Where').fill('salt spray chamber');
  await page.getByLabel(/^Planned exposure/).fill('24000');
  await page.getByLabel('Mark').fill('N1');
  await page.getByLabel('Area (dm²)').fill('0.25');
  await page.getByRole('button', { name: 'Add specimen' }).click();
  await page.getByLabel('Mark').nth(1).fill('N2');
  await page.getByLabel('Surface').nth(1).selectOption({ label: 'Coloured and oiled' });
  await page.getByLabel('Oil').fill('test oil 7');
  await look(page, 'exposure-new');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Plan test' }).click();
  await page.getByText(/Must be at most 6000 h/).waitFor();
  await page.getByLabel(/^Planned exposure/).fill('240');
  await page.getByRole('button', { name: 'Plan test' }).click();
  await page.getByRole('heading', { name: 'a new oil' }).waitFor();

  await page.getByRole('button', { name: 'Start test' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Start test' }).click();
  await page.getByRole('button', { name: 'Enter reading' }).click();
  await page.getByLabel(/^Temperature/).fill('53');
  await page.getByRole('button', { name: 'Keep reading' }).click();
  await page.getByText('The chamber was outside its range').waitFor();
  await page.getByRole('button', { name: 'Interrupt' }).click();
  await page.getByLabel('Reason').fill('heater');
  await page.getByRole('button', { name: 'Keep interruption' }).click();
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('dialog').getByLabel('Exposed again from').waitFor();
  await page.getByRole('dialog').getByRole('button', { name: 'Cancel' }).click();
  const row = await shop.db.prisma.exposureInterruption.findFirstOrThrow({ orderBy: { id: 'desc' } });
  expect(row).toMatchObject({ reason: 'heater', toAt: null });
});

test('an operator reads a test and enters nothing', async () => {
  const page = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  await page.goto(`${shop.url}/colour-bench/exposure`);
  await page
    .getByRole('row', { name: /in tap water/ })
    .getByRole('link')
    .first()
    .click();
  await page.getByText('Nobody looked', { exact: true }).waitFor();
  await page.getByRole('img', { name: /^W1, / }).first().waitFor();
  for (const name of [/^Look/, 'End test', 'Interrupt', 'Enter reading'])
    expect(await page.getByRole('button', { name }).count()).toBe(0);
});
