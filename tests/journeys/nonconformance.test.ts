import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, onto, openShop, signStep, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** Opens a dialog by its button, fills it and sends it. */
async function say(
  page: Page,
  button: string,
  fill: (dialog: ReturnType<Page['getByRole']>) => Promise<void>,
) {
  await page.getByRole('button', { name: button, exact: true }).click();
  const dialog = page.getByRole('dialog').filter({ hasNotText: 'This is your signature.' });
  await dialog.waitFor();
  await fill(dialog);
  await dialog.getByRole('button').last().click();
  await dialog.waitFor({ state: 'detached' });
}

test('a complaint becomes a nonconformance, is decided about, answered and closed', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  const waiting = quentin.getByRole('region', { name: /^Open nonconformances/ });
  await waiting.getByRole('link', { name: /^NC-/ }).first().waitFor();

  // From the page of a lot that was shipped: what the record knows is there already.
  await quentin.goto(`${shop.url}/lots?status=shipped`);
  await quentin.getByRole('link', { name: /^L-/ }).first().click();
  await quentin.getByRole('link', { name: 'Open nonconformance from a complaint' }).click();
  await quentin.getByRole('heading', { name: /^Nonconformance of L-/ }).waitFor();
  expect(await quentin.getByLabel('Where it was found').inputValue()).toBe('customer');
  await quentin.getByRole('region', { name: 'Signed steps' }).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'nonconformance-new');
  await quentin.getByLabel('Fault').selectOption('uneven');
  await quentin.getByLabel('Pieces affected').fill('2');
  await quentin.getByLabel('Description').fill('Two pieces are cloudy in the middle.');
  await quentin.getByLabel('Requirement not met').fill('even to the eye');
  // Nobody opens one without saying what was done at once.
  await quentin.getByRole('button', { name: 'Open nonconformance' }).click();
  await quentin
    .getByText(/Must be filled in/)
    .first()
    .waitFor();
  await quentin.getByLabel('Containment').fill('The rest of the lot was looked at on the shelf.');
  await quentin.getByRole('button', { name: 'Open nonconformance' }).click();
  await quentin.getByText('Before it can be closed it needs').waitFor();

  await say(quentin, 'Decide about pieces', async (dialog) => {
    await dialog.getByLabel('Disposition').selectOption('concession');
    await dialog.getByLabel('Number of the concession').fill('DEV-7');
    await dialog.getByLabel('Who at the customer gave it').fill('their buyer');
    await dialog.getByLabel('Authority').fill('head of quality');
    await dialog.getByLabel('Why').fill('hidden when mounted');
    await expectAccessible(quentin);
    await look(quentin, 'nonconformance-disposition');
  });
  await quentin.getByText('Concession DEV-7 of their buyer.').waitFor();
  await say(quentin, 'Add cause', (dialog) => dialog.getByLabel('Cause').fill('water dried on the pieces'));
  await say(quentin, 'Add action', async (dialog) => {
    await dialog.getByLabel('Owner').selectOption({ label: 'Omar Reed' });
    await dialog.getByLabel('Due').fill('2099-01-15');
    await dialog.getByLabel('Action', { exact: true }).fill('blow off before drying');
  });
  await say(quentin, 'Action done', (dialog) => dialog.getByLabel('What was done').fill('air knife fitted'));
  await say(quentin, 'Judge effect', (dialog) => dialog.getByLabel('What shows it').fill('no cloud since'));
  await say(quentin, 'Add cost', async (dialog) => {
    await dialog.getByLabel('Amount').fill('80.50');
  });
  await quentin.getByText('EUR 80.50').first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'nonconformance');
  await say(quentin, 'Close', (dialog) =>
    dialog.getByLabel('What was learned').fill('water dries fast in winter'),
  );
  await quentin.getByText('closed', { exact: true }).first().waitFor();

  const address = quentin.url();
  const tablet = await onto(quentin, { dark: true });
  await tablet.goto(address);
  await tablet.getByText('Done: air knife fitted').waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'nonconformance-tablet-dark');
  await tablet.goto(`${shop.url}/nonconformances`);
  await tablet.getByRole('link', { name: /^NC-/ }).first().waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'nonconformances-tablet-dark');
}, 240_000);

test('pieces that came back go round on a traveler that begins with a strip', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin.goto(`${shop.url}/lots?status=shipped`);
  await quentin.getByRole('link', { name: /^L-/ }).nth(1).click();
  await quentin.getByRole('link', { name: 'Open nonconformance from a complaint' }).click();
  await quentin.getByLabel('Pieces affected').fill('2');
  await quentin.getByLabel('Description').fill('Two pieces are too yellow.');
  await quentin.getByLabel('Requirement not met').fill('dE00 3 to the agreed sample');
  await quentin.getByLabel('Containment').fill('The two came back and stand in the cage.');
  await quentin.getByRole('button', { name: 'Open nonconformance' }).click();
  await quentin.getByText('Before it can be closed it needs').waitFor();
  const lot = quentin.getByRole('link', { name: /^L-\d+$/ }).first();
  const lotAddress = (await lot.getAttribute('href')) ?? '';
  await say(quentin, 'Decide about pieces', async (dialog) => {
    await dialog.getByLabel('Disposition').selectOption('rework');
    await dialog.getByLabel('Authority').fill('head of quality');
    await dialog.getByLabel('Why').fill('the metal is sound');
  });
  await quentin.getByRole('link', { name: /^Traveler T-/ }).click();
  await quentin.getByText('Strip', { exact: true }).first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'rework-traveler');

  const omar = await enter({ browser, shop, name: 'omar', size: 'tablet', dark: true });
  await omar.goto(`${shop.url}/tankside${lotAddress.replace('/lots', '')}`);
  await omar.getByText(/^Step 0 of/).waitFor();
  await omar
    .getByText(/only people trained for it work here/)
    .first()
    .waitFor();
  await expectAccessible(omar);
  await look(omar, 'rework-strip-tablet-dark');
  await signStep(omar);
  await omar.getByText(/^Step 1 of/).waitFor();
  await quentin.goto(`${shop.url}${lotAddress}`);
  await quentin.getByText('strip', { exact: true }).waitFor();
  await look(quentin, 'rework-lot');
  // How often pieces of the part go round stands on its page.
  await quentin
    .getByRole('link', { name: /rev [A-Z]$/ })
    .first()
    .click();
  await quentin.getByText(/went round again/).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'rework-share');
}, 240_000);
