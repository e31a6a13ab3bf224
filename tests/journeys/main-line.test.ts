import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { readPdf } from '../support/pdf.ts';
import { enter, expectAccessible, openShop, picture, type Shop, signStep } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let estimator: Page, planner: Page, operator: Page, quality: Page;

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  estimator = await enter({ browser, shop, name: 'edgar' });
  planner = await enter({ browser, shop, name: 'petra' });
  operator = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  quality = await enter({ browser, shop, name: 'quentin', dark: true });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const numberOn = async (page: Page) => /[A-Z]-\d{5}/.exec(await page.title())?.[0] ?? '';
const pdfOf = async (page: Page, name: string) => {
  const href = await page.getByRole('link', { name }).first().getAttribute('href');
  const answer = await page.request.get(`${shop.url}${href}`);
  expect(answer.status()).toBe(200);
  return readPdf(await answer.body());
};

test('four people take a part from a price to a shipped lot, and find it again by its voltage', async () => {
  // The estimator quotes 48 and 480 pieces and sees the prices before saving.
  await picture(planner, 'today');
  await estimator.goto(`${shop.url}/quotations/new`);
  await estimator.getByLabel('Customer').fill('Falkenau');
  await estimator.getByRole('option', { name: /Falkenau/ }).click();
  await estimator.getByLabel('Quantities').fill('48, 480');
  await estimator.getByRole('button', { name: 'build-up' }).nth(1).waitFor();
  expect(await estimator.getByRole('button', { name: 'build-up' }).count()).toBe(2);
  await estimator.getByRole('button', { name: 'build-up' }).nth(1).click();
  await estimator.getByRole('row', { name: 'Lot price' }).waitFor();
  await estimator.getByRole('button', { name: 'build-up' }).nth(0).click();
  await estimator.getByText(/Cost build-up of .* for 48 pieces/).click();
  await expectAccessible(estimator);
  await picture(estimator, 'quotation');
  await estimator.getByRole('button', { name: 'Save draft' }).click();
  await estimator.getByRole('button', { name: 'Send', exact: true }).click();
  await estimator.getByRole('button', { name: 'Send quotation' }).click();
  await estimator.getByText('sent', { exact: true }).first().waitFor();
  const quotation = await numberOn(estimator);
  const offered = (await pdfOf(estimator, 'PDF')).map(({ text }) => text).join(' ');
  expect(offered).toContain(quotation);
  expect(offered).not.toMatch(/margin|overhead/i);

  // The planner books the order, the receipt and the release.
  await planner.goto(`${shop.url}/quotations`);
  await planner.getByRole('link', { name: quotation }).click();
  await planner.getByRole('button', { name: 'Accepted' }).click();
  await planner.getByLabel('Their order number').fill('PO 991');
  await planner.getByRole('button', { name: 'Create order' }).click();
  await planner.waitForURL(/\/orders\/\d+$/);
  await planner.getByRole('button', { name: 'Record receipt' }).click();
  await planner.getByRole('dialog').getByRole('button', { name: 'Record receipt' }).click();
  await planner.getByText('48 received').waitFor();
  await expectAccessible(planner);
  await planner.getByRole('link', { name: 'Release' }).click();
  await planner.getByRole('heading', { name: 'Loads' }).waitFor();
  await expectAccessible(planner);
  await planner.getByRole('button', { name: /^Release \d+ lots?$/ }).click();
  await planner.waitForURL(/\/orders\/\d+$/);
  await planner.locator('a[href^="/lots/"]').first().click();
  await planner.waitForURL(/\/lots\/\d+$/);
  const lot = await numberOn(planner);
  const lotUrl = planner.url();
  const paper = (await pdfOf(planner, 'Print')).map(({ text }) => text).join(' ');
  expect(paper).toContain(lot);
  expect(paper).toContain('Cautions');

  // The operator signs every step on a tablet; one figure is off and needs a reason.
  await operator.goto(`${shop.url}/tankside?search=${lot}`);
  await operator.getByRole('link', { name: new RegExp(lot) }).click();
  await operator.getByText(/^Step 1 of/).waitFor();
  const good: Record<string, string> = { Voltage: '28.1', Temperature: '21', Current: '22', Time: '120' };
  const steps = await operator.getByRole('navigation', { name: 'Steps' }).getByRole('button').count();
  for (let position = 1; position <= steps; position += 1) {
    await operator.getByText(`Step ${position} of ${steps}`).waitFor();
    const title = (await operator.getByRole('heading', { level: 1 }).textContent()) ?? '';
    for (const [label, value] of Object.entries(good)) {
      const field = operator.getByLabel(new RegExp(`^${label} \\(`));
      if ((await field.count()) > 0)
        await field.first().fill(title.includes('clean') && label === 'Temperature' ? '58' : value);
    }
    if (title.startsWith('Colour')) {
      await expectAccessible(operator);
      await operator.getByRole('heading', { level: 1 }).scrollIntoViewIfNeeded();
      await picture(operator, 'tankside');
    }
    await signStep(operator);
  }
  await operator.getByText('Every step is signed').waitFor();

  // Quality reads the colour and checks, the planner ships, and the trace finds the lot by what was set.
  await quality.goto(lotUrl);
  await quality.getByRole('button', { name: 'Add reading' }).click();
  const reading = quality.getByRole('dialog');
  for (const [label, value] of [
    ['L*', '43.4'],
    ['a*', '9.2'],
    ['b*', '-41.5'],
    ['Place', 'outer face'],
  ] as const)
    await reading.getByLabel(label, { exact: label.endsWith('*') }).fill(value);
  await reading.getByLabel('Instrument').selectOption({ label: 'SP-1 Spectrophotometer' });
  await reading.getByText('as agreed').waitFor();
  await reading.getByRole('button', { name: 'Record reading', exact: true }).click();
  await quality.getByRole('row', { name: /outer face/ }).waitFor();
  await quality.getByRole('button', { name: 'Final check' }).click();
  await quality.getByRole('button', { name: 'Sign the check' }).click();
  await quality.getByText('passed', { exact: true }).first().waitFor();
  await planner.goto(lotUrl);
  await planner.getByRole('button', { name: 'Ship', exact: true }).click();
  await planner.getByRole('button', { name: 'Record shipment' }).click();
  await planner.getByText('shipped', { exact: true }).first().waitFor();
  await quality.goto(`${shop.url}/trace?stepKind=colour&settings=voltageV:28.05:28.15`);
  await quality.getByRole('link', { name: lot }).click();
  await quality.getByRole('heading', { name: 'What happened, in order' }).waitFor();
  await quality.getByText('28.1').first().waitFor();
  await expectAccessible(quality);
  await picture(quality, 'trace');
});
