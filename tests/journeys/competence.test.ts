import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { givePin } from '../support/lab.ts';
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

test('competence is granted, asked for, and let past once by the word of quality', async () => {
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

  // Omar's competence is withdrawn on his page; at the tank the step waits for a word.
  const { id: omarId } = await shop.db.prisma.person.findFirstOrThrow({ where: { name: 'omar' } });
  const { id: quentinId } = await shop.db.prisma.person.findFirstOrThrow({ where: { name: 'quentin' } });
  await givePin(shop.db, [quentinId], '4711');
  await quentin.goto(`${shop.url}/people/${omarId}`);
  await quentin.getByRole('button', { name: 'Withdraw' }).first().click();
  await quentin.getByRole('dialog').getByLabel('Reason').fill('a year off the line');
  await quentin.getByRole('button', { name: 'Withdraw competence' }).click();
  await quentin
    .getByText(/withdrawn by Quentin/)
    .first()
    .waitFor();

  const step = await shop.db.prisma.travelerStep.findFirstOrThrow({
    where: {
      ...{ signOff: null, carriedSignOffId: null, position: 1 },
      traveler: { status: 'issued', lot: { held: false, status: 'released' } },
    },
    include: { traveler: true },
  });
  const omar = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  await omar.goto(`${shop.url}/tankside/${step.traveler.lotId}`);
  await omar.getByText(/^Step 1 of/).waitFor();
  const { target } = (step.settings as { quantity: string; target: number }[]).find(
    ({ quantity }) => quantity === 'temperatureC',
  ) ?? { target: null };
  if (target !== null) await omar.getByLabel('Temperature').fill(String(target));
  const signing = () => omar.getByRole('button', { name: /^Sign as/ }).click();
  await signing();
  await look(omar, 'competence-signing');
  await omar.getByText('Outside competence').first().waitFor();
  await look(omar, 'competence-at-the-tank');
  await omar.getByRole('button', { name: 'Allow it once' }).click();
  const allowing = omar.getByRole('dialog');
  await allowing.getByLabel('Reason').fill('nobody else on the shift');
  await allowing.getByLabel('Answered for by').selectOption({ label: 'Quentin Hale' });
  await allowing.getByLabel('PIN').fill('4711');
  await expectAccessible(omar);
  await allowing.getByRole('button', { name: 'Take responsibility' }).click();
  await omar
    .getByText(/Allowed once by Quentin/)
    .first()
    .waitFor();
  await signing();
  await omar.getByText(/^Step 2 of/).waitFor();

  await quentin.goto(`${shop.url}/lots/${step.traveler.lotId}/trace`);
  await quentin.getByText('Signed outside competence, allowed by Quentin Hale:').first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'competence-trace');
  expect(await shop.db.prisma.competenceOverride.count()).toBe(1);
}, 240_000);
