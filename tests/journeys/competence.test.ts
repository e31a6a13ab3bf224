import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
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

test('competence is granted, asked for by the whole shop, and withdrawn', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin
    .getByRole('region', { name: /^Competence that ends/ })
    .getByRole('link')
    .first()
    .click();
  await quentin.getByRole('heading', { name: 'Competence', exact: true }).waitFor();
  await quentin.getByRole('button', { name: 'Grant' }).click();
  const dialog = quentin.getByRole('dialog');
  await dialog.getByLabel('Family of processes').selectOption('dyed-anodize');
  await dialog.getByLabel('Evidence').fill('Three weeks at the dye tanks');
  await expectAccessible(quentin);
  await dialog.getByRole('button', { name: 'Grant competence' }).click();
  await quentin.getByText('Three weeks at the dye tanks').first().waitFor();
  await look(quentin, 'competence-person');

  const olive = await enter({ browser, shop, name: 'olive' });
  await olive.goto(`${shop.url}/people`);
  await olive.getByRole('link', { name: 'Competence' }).click();
  await olive.getByRole('columnheader', { name: 'analyse baths' }).waitFor();
  await olive.getByRole('button', { name: 'Turn the rule on' }).click();
  await olive.getByRole('button', { name: 'Turn on', exact: true }).click();
  await olive.getByText('asked for', { exact: true }).first().waitFor();
  await expectAccessible(olive);
  await look(olive, 'competence-matrix');
  const narrow = await onto(olive, { dark: true });
  await narrow.setViewportSize({ width: 390, height: 800 });
  await narrow.goto(`${shop.url}/people/competence`);
  await narrow.getByRole('columnheader', { name: 'analyse baths' }).waitFor();
  await expectAccessible(narrow);
  await look(narrow, 'competence-matrix-phone');

  const { id: omarId } = await shop.db.prisma.person.findFirstOrThrow({ where: { name: 'omar' } });
  await quentin.goto(`${shop.url}/people/${omarId}`);
  await quentin.getByRole('button', { name: 'Withdraw' }).first().click();
  await quentin.getByRole('dialog').getByLabel('Reason').fill('a year off the line');
  await quentin.getByRole('button', { name: 'Withdraw competence' }).click();
  await quentin
    .getByText(/withdrawn by Quentin/)
    .first()
    .waitFor();
}, 240_000);
