import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
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

test('a plan is written, a lot is inspected by it, and only then accepted', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin.goto(`${shop.url}/lots?status=finished`);
  await quentin.getByRole('link', { name: /^L-/ }).first().click();
  await quentin.getByRole('link', { name: 'Open inspection' }).click();
  await quentin.getByText('No plan for this part').waitFor();
  const inspection = quentin.url();

  await quentin.getByRole('link', { name: 'Inspection plan of the part' }).click();
  await quentin.getByRole('link', { name: 'Write the plan' }).click();
  await quentin.getByRole('button', { name: 'Add characteristic' }).click();
  const second = quentin.getByRole('group', { name: 'Characteristic 2' });
  await second.getByLabel('Name').fill('Rub test');
  const rubTest = quentin.getByRole('group', { name: 'Rub test', exact: true });
  await rubTest.getByLabel('Kind').selectOption('adhesion');
  await rubTest.getByLabel('Method').fill('ten double rubs with a dry cloth');
  await rubTest.getByLabel('Accepted when').fill('no colour on the cloth');
  await rubTest.getByLabel('A sample by MIL-STD-105E').check();
  await rubTest.getByLabel('Acceptable quality limit').selectOption('4.0');
  // Nothing is signed without saying what it rests on.
  await quentin.getByRole('button', { name: 'Sign plan' }).click();
  await quentin
    .getByText(/must be filled in/i)
    .first()
    .waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'inspection-plan-edit');
  await quentin.getByLabel('What this revision rests on').fill('the drawing');
  await quentin.getByRole('button', { name: 'Sign plan' }).click();
  await quentin.getByText('sample at level II, AQL 4.0', { exact: false }).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'inspection-plan');

  const tablet = await onto(quentin, { size: 'tablet', dark: true });
  const { password = '' } = shop.people.find(({ name }) => name === 'quentin') ?? {};
  const signing = tablet.getByRole('dialog').filter({ hasText: 'This is your signature.' });
  await tablet.addLocatorHandler(signing, async () => {
    await signing.getByLabel('Your password').fill(password);
    await signing.getByRole('button', { name: 'Sign', exact: true }).click();
  });
  await tablet.goto(inspection);
  await tablet.getByText('Rub test is not inspected yet').waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'inspection-waiting');
  const record = async (section: string, found: string) => {
    const region = tablet.getByRole('region', { name: section });
    await region.getByRole('button', { name: /^Record/ }).click();
    const dialog = tablet.getByRole('dialog').filter({ hasNotText: 'This is your signature.' });
    await dialog.getByLabel('Of them not conforming').fill(found);
    await expectAccessible(tablet);
    await dialog.getByRole('button', { name: 'Sign result' }).click();
    await region.getByText(`${found} of`).first().waitFor();
  };
  await record('Look of the film', '0');
  // A rejected sample asks for every piece, and what is found in it is not accepted.
  await record('Rub test', '3');
  await tablet.getByText('the sample of Rub test was rejected', { exact: false }).waitFor();
  await record('Rub test', '4');
  await tablet.getByText('Everything was looked at').waitFor();
  await look(tablet, 'inspection-done');

  await quentin.goto(inspection.replace('/inspection', ''));
  await quentin.getByRole('button', { name: 'Final check' }).click();
  const check = quentin.getByRole('dialog').filter({ hasNotText: 'This is your signature.' });
  await check.getByRole('button', { name: 'Sign the check' }).click();
  await check.getByText(/inspection found 4 pieces/).waitFor();
  const pieces = Number(await check.getByLabel('Accepted').inputValue());
  await check.getByLabel('Accepted').fill(String(pieces - 4));
  await check.getByLabel('Rejected').fill('4');
  await check.getByLabel('Why').fill('colour came off on the cloth');
  await check.getByRole('button', { name: 'Sign the check' }).click();
  await check.waitFor({ state: 'detached' });
  await quentin.getByText(/Rub test 4 of/).waitFor();
});

test('what moved severity stands beside the plan', async () => {
  const move = await shop.db.prisma.inspectionSeverity.findFirstOrThrow({ orderBy: { id: 'asc' } });
  const part = await shop.db.prisma.part.findFirstOrThrow({ where: { number: move.partNumber } });
  const quentin = await enter({ browser, shop, name: 'quentin', size: 'tablet', dark: true });
  await quentin.goto(`${shop.url}/parts/${part.id}`);
  await quentin.getByRole('link', { name: 'Open inspection plan' }).click();
  const region = quentin.getByRole('region', { name: move.name });
  await region.getByText('2 of 5 or fewer consecutive lots rejected').waitFor();
  await region.getByRole('link', { name: /^L-/ }).first().waitFor();
  expect(move.severity).toBe('tightened');
  await expectAccessible(quentin);
  await look(quentin, 'inspection-severity');
});
