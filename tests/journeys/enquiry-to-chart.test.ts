import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, openShop, signStep, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
/** The estimator, the lab and quality at their desks, the operator at the tank; the planner between an order and its lot. */
let edgar: Page, lena: Page, quentin: Page, omar: Page, petra: Page;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  edgar = await enter({ browser, shop, name: 'edgar' });
  lena = await enter({ browser, shop, name: 'lena', dark: true });
  quentin = await enter({ browser, shop, name: 'quentin', size: 'tablet' });
  omar = await enter({ browser, shop, name: 'omar', size: 'tablet', dark: true });
  petra = await enter({ browser, shop, name: 'petra' });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const dialog = (page: Page) => page.getByRole('dialog');
const numberOn = async (page: Page) => /[A-Z]-\d{5}/.exec(await page.title())?.[0] ?? '';
const seen = async (page: Page, name: string) => {
  await expectAccessible(page);
  await look(page, `chain-${name}`);
};
const CODE = 'TI-5-TSP';
const recipeId = async () =>
  (await shop.db.prisma.recipe.findFirstOrThrow({ where: { name: 'Deep blue on titanium' } })).id;

test('the estimator writes an enquiry down', async () => {
  const customer = await shop.db.prisma.customer.findFirstOrThrow({
    where: { name: 'Falkenau Cycle Works' },
  });
  const material = await shop.db.prisma.material.findFirstOrThrow({
    where: { name: 'Titanium grade 5, Ti-6Al-4V' },
  });
  await edgar.goto(`${shop.url}/customers/${customer.id}`);
  await edgar.getByRole('link', { name: 'New enquiry' }).click();
  await edgar.getByLabel('What they ask').fill('Forty-eight clamps in the blue of S-14');
  await edgar.getByLabel('Colour in words').fill('deep blue');
  for (const [axis, value] of Object.entries({ L: 43, a: 9, b: -42 }))
    await edgar.getByLabel(`${axis}*`, { exact: true }).fill(String(value));
  await edgar.getByLabel('Material').selectOption(String(material.id));
  await edgar.getByLabel('Pieces wanted').fill('48');
  await edgar.getByRole('button', { name: 'Save enquiry' }).click();
  await edgar.waitForURL(/\/enquiries\/\d+$/);
  await edgar.getByRole('heading', { name: 'Near what we can make' }).waitFor();
  await seen(edgar, '1-enquiry');
}, 120_000);

test('the lab plans a strip, the operator lifts it at the tank, and its bands are measured', async () => {
  const series = await shop.db.prisma.couponSeries.findFirstOrThrow({
    where: { code: CODE, status: 'draft' },
  });
  await lena.goto(`${shop.url}/lab/coupons/${series.id}`);
  await lena.getByRole('link', { name: 'Plan a trial' }).click();
  await lena.getByRole('radio', { name: /^Strip/ }).check();
  await lena.getByLabel('Bands').fill('3');
  await lena.getByLabel(/^Lifted every/).fill('1');
  await lena.getByLabel(/^Temperature/).fill('21');
  await lena.getByLabel(/^Cell voltage/).fill('28');
  await lena.getByRole('button', { name: 'Plan trial' }).click();
  await lena.getByRole('heading', { name: /^Strip of 3 bands/ }).waitFor();
  const number = await lena
    .getByText(/^TR-\d+$/)
    .first()
    .textContent();
  await seen(lena, '2-strip-planned');

  await omar.goto(`${shop.url}/tankside`);
  await omar.getByRole('link', { name: new RegExp(number ?? '') }).click();
  await omar.getByRole('button', { name: 'In', exact: true }).click();
  await omar.getByRole('button', { name: 'Lifted 1' }).waitFor();
  await omar.getByLabel(/^Temperature/).fill('21.2');
  await omar.getByLabel(/^Cell voltage/).fill('28.1');
  await omar.getByRole('button', { name: 'Record reading' }).click();
  await omar.getByText(/21\.2/).first().waitFor();
  await omar.getByRole('button', { name: 'Lifted 1' }).click();
  await omar.getByRole('button', { name: 'Lifted 2' }).click();
  await omar.getByRole('button', { name: 'Out', exact: true }).click();
  await omar.getByRole('region', { name: 'What each was made under' }).waitFor();
  await seen(omar, '3-strip-at-the-tank');
  await omar.getByRole('button', { name: 'Sign as Omar Reed' }).click();
  await omar.getByText('Signed by Omar Reed').waitFor();

  await lena.goto(`${shop.url}/lab/coupons/${series.id}`);
  await lena.getByText('not looked at yet').first().waitFor();
  await lena.getByRole('link', { name: 'Edit draft' }).click();
  const landed = lena.getByRole('group', { name: /^Coupon \d/ }).filter({ hasText: 'was signed there' });
  await landed.nth(2).waitFor();
  expect(await landed.count()).toBe(3);
  for (const [index, lab] of [
    { L: 58, a: -4, b: 22 },
    { L: 48, a: 6, b: -28 },
    { L: 43.4, a: 8.6, b: -41.1 },
  ].entries()) {
    const coupon = landed.nth(index);
    await coupon.getByLabel('Outcome').selectOption('interference');
    for (const [axis, value] of Object.entries(lab))
      await coupon.getByLabel(`${axis}*`, { exact: true }).fill(String(value));
    await coupon.getByLabel('Colour known by').selectOption('measured');
  }
  await lena.getByRole('button', { name: 'Save draft' }).click();
  await lena.getByText('43.4').first().waitFor();
  await seen(lena, '4-bands-measured');

  await quentin.goto(`${shop.url}/lab/coupons/${series.id}`);
  await quentin.getByRole('button', { name: 'Approve' }).click();
  await dialog(quentin).getByRole('button', { name: 'Approve' }).click();
  await quentin.getByText('approved', { exact: true }).first().waitFor();
}, 180_000);

test('the lab cites the strip behind a new revision of the recipe, and quality approves it on its evidence', async () => {
  const id = await recipeId();
  await lena.goto(`${shop.url}/recipes/${id}`);
  await lena.getByRole('button', { name: 'New draft from this' }).click();
  await lena.getByLabel('What changed, and why').fill('proved on a strip of grade 5, for an enquiry');
  await lena.getByRole('button', { name: 'Save draft' }).click();
  await lena.waitForURL(/\/recipes\/\d+\?revision=\d+/);
  const address = lena.url().split('#')[0] ?? '';
  await lena.getByRole('tab', { name: /^Evidence/ }).click();
  await lena.getByRole('button', { name: /^Cite what revision/ }).click();
  await lena.getByRole('region', { name: 'Evidence' }).waitFor();
  await lena.getByRole('button', { name: 'Cite coupons' }).click();
  const choice = dialog(lena).getByLabel('Approved coupon series');
  await choice.locator('option', { hasText: CODE }).waitFor({ state: 'attached' });
  await choice.selectOption({
    label: (await choice.locator('option', { hasText: CODE }).textContent()) ?? '',
  });
  await dialog(lena).getByRole('button', { name: 'Cite', exact: true }).click();
  await lena.getByRole('region', { name: 'Evidence' }).getByText(CODE).first().waitFor();
  await seen(lena, '5-evidence');

  await quentin.goto(address);
  await quentin.getByRole('button', { name: 'Approve' }).click();
  // Nothing is lacking: no reason is asked for.
  expect(await dialog(quentin).getByLabel('Why it is approved all the same').count()).toBe(0);
  await dialog(quentin).getByRole('button', { name: 'Approve' }).click();
  await quentin.getByText(/^revision \d+, approved$/).waitFor();
  await seen(quentin, '6-recipe-approved');
}, 120_000);

let lotUrl = '';
test('the estimator quotes it out of the enquiry, and it becomes a lot', async () => {
  await edgar
    .getByRole('link', { name: /^Quote/ })
    .first()
    .click();
  await edgar.getByText(/Answers enquiry E-/).waitFor();
  await edgar.getByRole('button', { name: 'build-up' }).first().waitFor();
  expect(await edgar.getByLabel('Quantities').inputValue()).toBe('48');
  await edgar.getByRole('button', { name: 'Save draft' }).click();
  await edgar.waitForURL(/\/quotations\/\d+$/);
  await edgar.getByText('proved', { exact: true }).first().waitFor();
  await edgar.getByRole('button', { name: 'Send', exact: true }).click();
  await edgar.getByRole('button', { name: 'Send quotation' }).click();
  await edgar.getByText('sent', { exact: true }).first().waitFor();
  await seen(edgar, '7-quotation');

  await petra.goto(edgar.url());
  await petra.getByRole('button', { name: 'Accepted' }).click();
  await petra.getByLabel('Their order number').fill('PO 1212');
  await petra.getByRole('button', { name: 'Create order' }).click();
  await petra.waitForURL(/\/orders\/\d+$/);
  await petra.getByRole('button', { name: 'Record receipt' }).click();
  await dialog(petra).getByRole('button', { name: 'Record receipt' }).click();
  await petra.getByText('48 received').waitFor();
  await petra.getByRole('link', { name: 'Release' }).click();
  await petra.getByRole('button', { name: /^Release \d+ lots?$/ }).click();
  await petra.waitForURL(/\/orders\/\d+$/);
  await petra.locator('a[href^="/lots/"]').first().click();
  await petra.waitForURL(/\/lots\/\d+$/);
  lotUrl = petra.url();
}, 120_000);

async function read(page: Page, place: string, figures: { L: string; a: string; b: string }) {
  await page.getByRole('button', { name: 'Add reading' }).click();
  for (const [axis, value] of Object.entries(figures))
    await dialog(page).getByLabel(`${axis}*`, { exact: true }).fill(value);
  await dialog(page).getByLabel('Instrument').selectOption({ label: 'SP-1 Spectrophotometer' });
  await dialog(page).getByLabel('Place').fill(place);
  await dialog(page).getByText('as agreed').waitFor();
  await look(page, `chain-reading-${place.replaceAll(' ', '-')}`);
  await dialog(page).getByRole('button', { name: 'Record reading', exact: true }).click();
  await page
    .getByRole('row', { name: new RegExp(place) })
    .getByText('as agreed')
    .waitFor();
}

test('the operator colours and reads it, quality reads and checks it, and every reading is on the chart', async () => {
  const lot = await numberOn(petra);
  await omar.goto(`${shop.url}/tankside?search=${lot}`);
  await omar.getByRole('link', { name: new RegExp(lot) }).click();
  await omar.getByText(/^Step 1 of/).waitFor();
  const steps = await omar.getByRole('navigation', { name: 'Steps' }).getByRole('button').count();
  for (let position = 1; position <= steps; position += 1) {
    await omar.getByText(`Step ${position} of ${steps}`).waitFor();
    const title = (await omar.getByRole('heading', { level: 1 }).textContent()) ?? '';
    const good = {
      ...{ Voltage: '28.1', Current: '22', Time: '120' },
      Temperature: title.includes('clean') ? '58' : '21',
    };
    for (const [label, value] of Object.entries(good)) {
      const field = omar.getByLabel(new RegExp(`^${label} \\(`));
      if ((await field.count()) > 0) await field.first().fill(value);
    }
    await signStep(omar);
  }
  await omar.getByText('Every step is signed').waitFor();
  await read(omar, 'outer face', { L: '43.4', a: '9.2', b: '-41.5' });
  await seen(omar, '8-read-at-the-tank');

  await quentin.goto(lotUrl);
  await read(quentin, 'inner face', { L: '42.6', a: '8.9', b: '-42.2' });
  await seen(quentin, '9-lot');
  await quentin.getByRole('button', { name: 'Final check' }).click();
  await quentin.getByRole('button', { name: 'Sign the check' }).click();
  await quentin.getByText('passed', { exact: true }).first().waitFor();
  await quentin.goto(`${lotUrl}/trace`);
  for (const asked of ['What was agreed', 'What it was', 'Why it was expected'])
    await quentin.getByText(asked, { exact: true }).waitFor();
  await seen(quentin, '10-three-answers');

  await lena.goto(`${shop.url}/recipes/${await recipeId()}#colour`);
  await lena.getByText('dE from what was agreed').first().waitFor();
  const rows = lena.getByRole('region', { name: 'Readings' }).getByRole('row', { name: new RegExp(lot) });
  expect(await rows.count()).toBe(2);
  expect(await rows.getByText('28.1 V').count()).toBe(2);
  await seen(lena, '11-colour-chart');
}, 240_000);
