import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { readPdf } from '../support/pdf.ts';
import { enter, expectAccessible, look, onto, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('a planner writes the note of a shipment, prints its labels, and records what came back', async () => {
  const petra = await enter({ browser, shop, name: 'petra' });
  const waiting = petra.getByRole('region', { name: /^Delivery notes to write/ });
  await waiting.getByRole('link').first().click();
  await petra.getByRole('heading', { name: /^Delivery note for / }).waitFor();
  await expectAccessible(petra);
  // A second package takes some of the pieces; one that holds too many is refused by name.
  await petra.getByRole('button', { name: 'Add package' }).click();
  const pieces = petra.getByLabel('Pieces', { exact: true });
  const all = Number(await pieces.first().inputValue());
  await pieces.nth(1).fill('5');
  await petra.getByRole('button', { name: 'Issue delivery note' }).click();
  await petra
    .getByText(`hold ${all + 5} pieces of`, { exact: false })
    .first()
    .waitFor();
  await pieces.first().fill(String(all - 5));
  await petra
    .getByLabel(/^Gross/)
    .first()
    .fill('6.4');
  await look(petra, 'delivery-new');
  await petra.getByRole('button', { name: 'Issue delivery note' }).click();
  await petra.getByRole('heading', { name: 'Delivery note', exact: true }).waitFor();
  await petra.getByRole('heading', { name: 'Packages' }).waitFor();
  await expectAccessible(petra);
  await look(petra, 'delivery');

  const place = new URL(petra.url()).pathname.replace('/deliveries/', '/api/delivery-notes/');
  const read = async (path: string) =>
    readPdf(await (await petra.context().request.get(`${shop.url}${place}${path}`)).body());
  expect((await read('/pdf')).map(({ text }) => text).join(' ')).toContain('Packages');
  await petra.getByRole('button', { name: 'Labels' }).click();
  await petra.getByLabel(/^Width/).fill('70');
  await petra.getByLabel(/^Height/).fill('50');
  const [sheet] = await Promise.all([
    petra.context().waitForEvent('page'),
    petra.getByRole('button', { name: 'Print labels' }).click(),
  ]);
  await sheet.close();
  expect(await petra.evaluate(() => localStorage.getItem('huelot.labelSize'))).toBe('70x50');
  expect(await read('/labels?widthMm=70&heightMm=50')).toHaveLength(2);

  await petra.getByRole('button', { name: 'Goods came back' }).click();
  const dialog = petra.getByRole('dialog');
  await dialog.getByLabel('Pieces that came back').fill('2');
  await dialog.getByLabel('Reason').fill('stains beside the holes');
  await dialog.getByRole('button', { name: 'Record return' }).click();
  await petra.getByText('stains beside the holes').first().waitFor();
  await expectAccessible(petra);

  const tablet = await onto(petra, { dark: true });
  await tablet.goto(`${shop.url}/deliveries`);
  await tablet.getByRole('link', { name: /^DN-/ }).first().waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'deliveries-tablet-dark');
  await tablet.getByRole('link', { name: /^DN-/ }).first().click();
  await tablet.getByText('stains beside the holes').first().waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'delivery-tablet-dark');
}, 240_000);
