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

test('quality signs what was promised, a customer checks the copy, and a wrong one is withdrawn', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  const waiting = quentin.getByRole('region', { name: /^Certificates to sign/ });
  await waiting.getByRole('link').first().click();
  await quentin.getByRole('heading', { name: /^Certificate of / }).waitFor();
  await quentin.getByText('Quantity certified').waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'certificate-new');
  const deviations = quentin.getByLabel('Deviations');
  await deviations.fill('Looked at beside the agreed sample: no effect on the pieces.');
  // Nobody signs without saying as what.
  await quentin.getByRole('button', { name: 'Sign certificate' }).click();
  await quentin
    .getByText(/Must be filled in/)
    .first()
    .waitFor();
  await quentin.getByLabel('Your title').fill('Head of quality');
  await quentin.getByRole('button', { name: 'Sign certificate' }).click();
  await quentin.getByRole('heading', { name: 'Certificate of conformance' }).waitFor();
  expect(quentin.url()).toMatch(/\/certificates\/\d+$/);
  await quentin.getByText('stands', { exact: true }).first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'certificate');

  const pdf = await quentin.context().request.get(`${shop.url}/api${new URL(quentin.url()).pathname}/pdf`);
  const text = (await readPdf(await pdf.body())).map((page) => page.text).join(' ');
  expect(text).toContain('Certificate of conformance');
  expect(text).toContain('Looked at beside the agreed sample');
  const code = /Code ([0-9A-Z-]{19})/.exec(text)?.[1] ?? '';
  expect(text).toContain(`/check/${code}`);

  // Whoever holds the paper needs no account.
  const stranger = await browser.newContext({ viewport: { width: 390, height: 800 }, colorScheme: 'dark' });
  const phone = await stranger.newPage();
  await phone.goto(`${shop.url}/check/${code.toLowerCase()}`);
  await phone.getByText(/^CC-\d+ revision 1 stands$/).waitFor();
  await expectAccessible(phone);
  await look(phone, 'certificate-check-phone');
  expect(await phone.locator('body').innerText()).not.toContain('pieces');

  await quentin.getByRole('button', { name: 'Withdraw' }).click();
  const dialog = quentin.getByRole('dialog');
  await dialog.getByLabel('Reason').fill('thermometer read 4 K low');
  await dialog.getByRole('button', { name: 'Withdraw certificate' }).click();
  await quentin.getByText(/^Withdrawn .* by Quentin/).waitFor();
  await phone.reload();
  await phone.getByText(/was withdrawn$/).waitFor();
  await phone.goto(`${shop.url}/check/0000-0000-0000-0000`);
  await phone.getByText('No certificate has this code').waitFor();
  await stranger.close();

  const tablet = await onto(quentin, { dark: true });
  await tablet.goto(`${shop.url}/certificates`);
  await tablet.getByRole('cell').filter({ hasText: 'withdrawn' }).first().waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'certificates-tablet-dark');
  await tablet.getByRole('link', { name: /^CC-/ }).nth(1).click();
  await tablet.getByText('Quantity certified').waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'certificate-tablet-dark');
}, 240_000);
