import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, openShop, picture, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let lena: Page;

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  lena = await enter({ browser, shop, name: 'lena' });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const bottle = 'HCl 0.5000, bottle of the worked example';

async function newestCausticBath() {
  return shop.db.prisma.bath.findFirstOrThrow({
    where: { contents: 'hot-caustic', dumpedAt: null },
    orderBy: { id: 'desc' },
  });
}

/** Two flasks with the same readings, counted from zero, 5 mL made up to 250 mL and 25 mL taken. */
async function titrate(page: Page, readings: { firstMl: string; secondMl: string }) {
  await page
    .getByLabel('Method', { exact: true })
    .selectOption({ label: 'CAUSTIC-2 rev 1: Caustic and carbonate, two end points' });
  for (const flask of [1, 2]) {
    const fields = page.getByRole('group', { name: `Flask ${flask}` });
    await fields.getByLabel(/^First end point/).fill(readings.firstMl);
    await fields.getByLabel(/^Second/).fill(readings.secondMl);
  }
  const strength = page.getByLabel('Bottle of titrant');
  const wanted = await strength.locator('option', { hasText: bottle }).getAttribute('value');
  await strength.selectOption(wanted);
}

// Warder's two end points: C = 0.5000 eq/L, V1 = 13.60 mL, V2 = 13.95 mL, 0.500 mL of bath in the flask give
// 743.4 g/L KOH and 48.4 g/L K2CO3; read as total alkali 782.7 g/L. With the density of the mixture 48.4 wt% KOH.
test('two end points of a caustic bath are typed as at the burette and say what the worked example says', async () => {
  const bath = await newestCausticBath();
  const added = await lena.request.post(`${shop.url}/api/titrants`, {
    headers: { origin: shop.url },
    data: {
      reagent: 'HCl',
      label: bottle,
      expiresOn: null,
      notes: '',
      eqPerLitre: 0.5,
      standardUncertaintyEqPerLitre: 0.0005,
      standardisedOn: new Date().toISOString().slice(0, 10),
    },
  });
  expect(added.status()).toBe(201);

  await lena.goto(`${shop.url}/lab`);
  await lena.getByRole('link', { name: /^T6/ }).click();
  await lena.getByRole('heading', { name: /^T6/ }).waitFor();
  await lena.getByRole('link', { name: 'Analyse', exact: true }).click();
  await titrate(lena, { firstMl: '13.60', secondMl: '12.10' });
  const result = lena.getByRole('complementary', { name: 'Result so far' });
  await result.getByText('This reading is impossible').waitFor();

  await titrate(lena, { firstMl: '13.60', secondMl: '13.95' });
  await result.getByText(/743\.4\sg\/L/).waitFor();
  await result
    .getByText(/48\.4\d?/)
    .first()
    .waitFor();
  await result.getByText(/782\.7/).waitFor();
  await result.getByText(/With these figures the bath is/).waitFor();
  await expectAccessible(lena);
  await picture(lena, 'analyse-a-bath');
  await lena.getByRole('button', { name: 'Save the analysis' }).click();
  await lena.getByRole('heading', { name: 'Analysis of T6' }).waitFor();

  const analysis = await shop.db.prisma.analysis.findFirstOrThrow({
    where: { bathId: bath.id },
    orderBy: { id: 'desc' },
    include: { results: true },
  });
  const found = (component: string) => analysis.results.find((one) => one.component === component);
  expect(found('KOH')?.gramsPerLitre).toBeCloseTo(743.4, 1);
  expect(found('K2CO3')?.gramsPerLitre).toBeCloseTo(48.4, 1);
  expect(found('KOH')?.massFraction).toBeCloseTo(0.484, 3);
});

test('an addition is planned from it, done by two, and ends with a confirming analysis', async () => {
  const bath = await newestCausticBath();
  await lena.getByRole('link', { name: 'Plan an addition from it' }).click();
  await lena.getByRole('heading', { name: 'The plan', exact: true }).waitFor();
  await lena.getByText('Caustic goes slowly into water').waitFor();
  // Of the older lot less is left than the plan asks for.
  const stock = lena.getByLabel('Stock', { exact: true });
  const fuller = await stock.locator('option', { hasText: 'VK-2318' }).getAttribute('value');
  await stock.selectOption(fuller);
  await lena.getByRole('button', { name: 'Save the plan' }).click();
  await lena.getByRole('link', { name: 'Do it now' }).click();
  await lena.getByRole('button', { name: 'As planned' }).first().waitFor();
  for (const asPlanned of await lena.getByRole('button', { name: 'As planned' }).all())
    await asPlanned.click();
  for (const where of await lena.getByLabel('Where it went').all()) await where.fill('own treatment');

  await lena.getByRole('button', { name: 'It is done' }).click();
  await lena.getByText(/adding hot caustic takes two people/).waitFor();
  expect(await shop.db.prisma.addition.count({ where: { bathId: bath.id, state: 'planned' } })).toBe(1);

  await lena.getByLabel('Checked by').selectOption({ label: 'Omar Reed' });
  await lena.getByLabel('PIN of the second person').fill('4070');
  await lena.getByRole('button', { name: 'It is done' }).click();
  await lena.getByText('A confirming analysis is asked for', { exact: true }).waitFor();
  await expectAccessible(lena);
  const number = (await lena.locator('h1 + .tag').textContent())?.trim() ?? '';

  await lena.getByRole('link', { name: 'Analyse now' }).click();
  await titrate(lena, { firstMl: '14.15', secondMl: '14.50' });
  await lena.getByRole('button', { name: 'Save the analysis' }).click();
  await lena.getByRole('heading', { name: 'Analysis of T6' }).waitFor();
  const analysis = (await lena.locator('h1 + .tag').textContent())?.trim() ?? '';
  await lena.goto(`${shop.url}/lab/additions?search=${number}`);
  await lena.getByRole('link', { name: number }).click();
  await lena.getByText(`Confirmed by ${analysis}`).waitFor();
});
