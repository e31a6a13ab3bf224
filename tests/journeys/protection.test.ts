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

/** A scan of so many ohm about -0.46 V, as an instrument writes it. */
const file = (ohm: number) =>
  ['Potential (V);Current (A)']
    .concat(
      Array.from(
        { length: 21 },
        (_, index) => `${(-0.47 + index * 0.001).toFixed(3)};${((index - 10) * 0.001) / ohm}`,
      ),
    )
    .join('\n');

test('protection was a word: scans of bare and coloured steel give rates side by side, and a wrong one is replaced', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.getByRole('link', { name: 'Colour bench' }).click();
  await page.getByRole('link', { name: 'Protection' }).click();
  await page.getByText(/coloured and oiled: .*times slower/).waitFor();
  // An unsealed black film is not told from bare metal; with its oil it is.
  await page
    .getByRole('listitem')
    .filter({ hasText: 'not told from no effect' })
    .filter({ hasText: /coloured: / })
    .waitFor();
  await look(page, 'protection');
  await picture(page.locator('figure').first(), 'protection');
  await expectAccessible(page);

  await page.getByRole('link', { name: 'New scan' }).click();
  await page.getByLabel('Specimen', { exact: true }).fill('P20');
  await page.getByLabel(/^Medium/).fill('tap water');
  await page.getByLabel('Points', { exact: true }).fill(file(1250));
  await page.getByLabel(/^Wetted area/).fill('1000');
  await page.getByLabel(/^Resistance of the solution/).fill('0');
  await page
    .getByText(/mm per year/)
    .first()
    .waitFor();
  await look(page, 'protection-new');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Keep scan' }).click();
  await page.getByRole('heading', { name: 'P20' }).waitFor();
  const kept = await shop.db.prisma.polarizationScan.findFirstOrThrow({ orderBy: { id: 'desc' } });
  expect((kept.result as { polarizationResistanceOhmCm2: number }).polarizationResistanceOhmCm2).toBeCloseTo(
    (1250 * kept.areaMm2) / 100,
    3,
  );

  await page.getByRole('link', { name: 'Replace' }).click();
  await page.getByLabel(/^Wetted area/).fill('100');
  await page.getByLabel(/^Why it replaces/).fill('the area was that of the whole plate');
  await page.getByRole('button', { name: 'Keep scan' }).click();
  await page
    .locator('p')
    .filter({ hasText: /In the place of PS-\d+: the area/ })
    .waitFor();
  await look(page, 'protection-scan');
  expect(await shop.db.prisma.polarizationScan.count({ where: { replacesId: kept.id } })).toBe(1);

  const tablet = await onto(page, {});
  await tablet.goto(`${shop.url}/colour-bench/protection`);
  await tablet
    .getByText(/times slower/)
    .first()
    .waitFor();
  await look(tablet, 'protection-tablet');
  await expectAccessible(tablet);
});

test('an operator reads rates and enters none', async () => {
  const page = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  await page.goto(`${shop.url}/colour-bench/protection`);
  await page
    .getByText(/times slower/)
    .first()
    .waitFor();
  expect(await page.getByRole('link', { name: 'New scan' }).count()).toBe(0);
});
