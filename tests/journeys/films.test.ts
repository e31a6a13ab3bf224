import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { greyPng } from '../../apps/api/src/demo/grey-png.ts';
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

/** Resin, 120 pixels of film from 180 to 300, metal; a bar of 400 pixels near the foot. */
const section = greyPng({
  ...{ width: 640, height: 480 },
  greyAt: (x, y) => (y >= 450 && y < 456 && x >= 100 && x <= 500 ? 255 : y < 180 ? 30 : y < 300 ? 120 : 200),
});

/** Clicks on the picture at one of its own pixels. */
async function clickAt(page: Page, x: number, y: number) {
  const marker = page.getByRole('button', { name: /^The picture/ });
  await marker.scrollIntoViewIfNeeded();
  const box = await marker.boundingBox();
  if (box === null) throw new Error('no picture');
  await marker.click({ position: { x: (x / 640) * box.width, y: (y / 480) * box.height } });
}

test('the thickness of a steel film was a word: methods stand side by side, judged, with the picture and the model of its colour', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.getByRole('link', { name: 'Colour bench' }).click();
  await page.getByRole('link', { name: 'Films' }).click();
  await page.getByRole('row').filter({ hasText: 'S9' }).first().waitFor();
  await look(page, 'films');
  await expectAccessible(page);

  await page.getByRole('link', { name: 'ST-1075-KOH S9' }).first().click();
  await page.getByRole('heading', { name: 'Film of S9', exact: true }).waitFor();
  await page.getByRole('region', { name: 'Agreement of the methods' }).getByText('agree').first().waitFor();
  await page.getByText('A model, not evidence').waitFor();
  await look(page, 'film-steel');
  for (const [index, name] of ['film-thickness', 'film-picture'].entries())
    await picture(page.locator('figure').nth(index), name);
  const models = page.getByText(/from the reading; nearest/);
  const before = await models.textContent();
  await page.getByRole('slider', { name: /^Porosity/ }).fill('0.6');
  await expect.poll(() => models.textContent()).not.toBe(before);
  await expectAccessible(page);

  await page.goto(`${shop.url}/colour-bench/film`);
  await page.getByRole('link', { name: 'TI-2-TSP T31' }).first().click();
  await page
    .getByRole('link', { name: /CAL-TI-2, by colour and voltage/ })
    .first()
    .waitFor();
  await look(page, 'film-titanium');
  await page.goto(`${shop.url}/colour-bench/film`);
  await page.getByRole('link', { name: 'ST-1075-KOH S27' }).first().click();
  await page.getByText('Phases by diffraction').waitFor();
  await look(page, 'film-black');
}, 120_000);

test('a picture is clicked on, a slipped unit is asked about, and a wrong measurement is replaced and taken back', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.goto(`${shop.url}/lab/coupons`);
  await page
    .getByRole('link', { name: /ST-1075-KOH/ })
    .first()
    .click();
  await page.getByRole('link', { name: 'Film of S10', exact: true }).click();
  await page.getByText('Nothing measured yet').waitFor();
  await page.getByRole('link', { name: 'Measure its film' }).click();
  await page.getByLabel(/^Measured by/).fill('the microscope next door');
  await page
    .getByRole('button', { name: 'Picture with a scale bar' })
    .setInputFiles({ name: 'S10.png', mimeType: 'image/png', buffer: section });
  await page.getByText('Click one end of the scale bar.').waitFor();
  for (const x of [100, 500]) await clickAt(page, x, 453);
  for (const x of [80, 200, 320, 440, 560]) {
    await clickAt(page, x, 180);
    await clickAt(page, x, 300);
  }
  await page.getByText('5 pairs so far.').waitFor();
  // The keyboard marks too: a pair more, and it is undone.
  await page.getByRole('button', { name: /^The picture/ }).focus();
  for (const key of ['ArrowUp', 'Enter', 'ArrowDown', 'Enter']) await page.keyboard.press(key);
  await page.getByRole('button', { name: 'Undo the last click' }).click();
  await page.getByRole('button', { name: 'Undo the last click' }).click();
  // A micrometre as a millimetre.
  await page.getByLabel(/^Length that is written/).fill('1000');
  await page.getByLabel(/^Uncertainty of that length/).fill('0.01');
  await page
    .getByText(/Thickness/)
    .first()
    .waitFor();
  await look(page, 'film-new');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Keep measurement' }).click();
  await page
    .getByText(/films that colour metal are 1 nm to 100 µm/)
    .first()
    .waitFor();
  await look(page, 'film-doubt');
  await page.getByLabel(/^Length that is written/).fill('1');
  await page.getByRole('button', { name: 'Keep measurement' }).click();
  await page.getByRole('heading', { name: 'Film of S10', exact: true }).waitFor();
  const kept = await shop.db.prisma.filmMeasurement.findFirstOrThrow({ orderBy: { id: 'desc' } });
  expect(kept.thicknessNm).toBeGreaterThan(290);
  expect(kept.thicknessNm).toBeLessThan(310);

  await page.getByRole('link', { name: kept.number }).first().click();
  await page.getByRole('link', { name: 'Replace' }).click();
  await page.getByLabel(/^Length that is written/).fill('2');
  await page.getByLabel(/^Why it replaces/).fill('the bar is two micrometres');
  await page.getByRole('button', { name: 'Keep measurement' }).click();
  await page.getByRole('heading', { name: 'Film of S10', exact: true }).waitFor();
  const next = await shop.db.prisma.filmMeasurement.findFirstOrThrow({ orderBy: { id: 'desc' } });
  expect(next.thicknessNm).toBeCloseTo(2 * (kept.thicknessNm ?? 0), 6);
  await page.getByRole('link', { name: next.number }).first().click();
  await page.getByRole('button', { name: 'Take back' }).click();
  await page.getByLabel('Why').fill('the film smeared in polishing');
  await page.getByRole('dialog').getByRole('button', { name: 'Take back' }).click();
  await page.getByText(/Takes back/).waitFor();
  await look(page, 'film-withdrawn');
  await expectAccessible(page);
}, 120_000);

test('the process map draws the thickness where it was measured, and a tablet reads it', async () => {
  const page = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  const { id } = await shop.db.prisma.couponSeries.findFirstOrThrow({
    where: { code: 'ST-1075-KOH', status: 'approved' },
  });
  await page.goto(`${shop.url}/colour-bench/map?ground=${id}`);
  await page.getByLabel('film thickness').check();
  await page.getByText('nobody measured').waitFor();
  await page
    .getByText(/ ± .* nm$/)
    .first()
    .waitFor();
  await look(page, 'map-thickness-tablet');
  await picture(page.locator('figure').first(), 'map-thickness');
  await expectAccessible(page);
  await page.goto(`${shop.url}/colour-bench/film`);
  await page.getByRole('link', { name: 'ST-1075-KOH S9' }).first().click();
  await page.getByRole('heading', { name: 'Film of S9', exact: true }).waitFor();
  expect(await page.getByRole('link', { name: 'Measurement', exact: true }).count()).toBe(0);
  await look(page, 'film-tablet');
  await expectAccessible(page);
  const dark = await onto(page, {});
  await dark.goto(page.url());
  await dark.getByRole('heading', { name: 'Film of S9', exact: true }).waitFor();
  await look(dark, 'film-dark');
  await expectAccessible(dark);
  for (const width of [390, 320]) {
    await page.setViewportSize({ width, height: 844 });
    await look(page, `film-${width}`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(width);
  }
}, 120_000);

test('dyed aluminium looks sealed or not by what it lost in acid, beside its colour on the bench', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await page.goto(`${shop.url}/colour-bench`);
  const { id } = await shop.db.prisma.couponSeries.findFirstOrThrow({
    where: { code: 'AL-RED-DYE', status: 'approved' },
  });
  await page.getByText('Dyed aluminium: coating and dye').click();
  await page.getByLabel('Coupons in dye').selectOption(String(id));
  await page
    .getByText(/D12, FM-.*too close to the limit/)
    .first()
    .waitFor();
  await picture(page.locator('figure').filter({ hasText: 'Loss of mass of sealed coatings' }), 'seal-loss');
  await page.goto(`${shop.url}/colour-bench/film/coupon?series=${id}&mark=D15`);
  await page.locator('dd', { hasText: 'the seal fails' }).waitFor();
  await look(page, 'film-seal');
  await expectAccessible(page);
}, 120_000);
