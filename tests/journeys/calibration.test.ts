import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
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

/** The deep blue of a film of 50 nm. */
async function askForBlue(page: Page) {
  for (const [label, figure] of [
    ['L*', '43'],
    ['a*', '9'],
    ['b*', '-42'],
  ] as const)
    await page.getByLabel(label, { exact: true }).fill(figure);
}

test('one calibrates, another approves, and what is quoted and drafted goes by it', async () => {
  const lena = await enter({ browser, shop, name: 'lena' });
  await lena.getByRole('link', { name: 'Calibrations' }).click();
  await lena.getByRole('link', { name: 'CAL-TI-5' }).waitFor();
  await lena.getByText('Orders not decided').waitFor();
  await expectAccessible(lena);
  await look(lena, 'calibrations');

  // A section of the highest coupon decides how the orders are counted.
  await lena.getByRole('link', { name: 'CAL-TI-5' }).click();
  await lena.getByRole('link', { name: 'Edit draft' }).click();
  await lena.getByRole('button', { name: 'Count like this' }).first().click();
  await lena.getByLabel('How that is known').fill('Cross-section of the highest coupon');
  await lena.getByText('The coupons agree with one law.').waitFor();
  await expectAccessible(lena);
  await look(lena, 'calibration-counted');
  await lena.getByRole('button', { name: 'Let the coupons decide' }).click();
  await lena.getByText('Orders not decided').waitFor();
  await lena.goto(`${shop.url}/calibrations`);

  // A ladder with one coupon that was prepared wrongly: it is found, and left out with a reason.
  await lena.getByRole('link', { name: 'New calibration' }).click();
  await lena.getByLabel(/^TI-2-TSP rev 1/).check();
  await lena.getByLabel('Code').fill('CAL-NEW');
  await lena.getByLabel('Name', { exact: true }).fill('Grade 2, calibrated again');
  await lena.getByText('at 45 V may be prepared otherwise').waitFor();
  await lena.getByRole('button', { name: 'Leave it out' }).click();
  await lena.getByLabel('Because').fill('never etched: dull');
  await lena.getByText('The coupons agree with one law.').waitFor();
  await lena.getByRole('img', { name: /^The ladder/ }).waitFor();
  await expectAccessible(lena);
  await look(lena, 'calibration-form');
  await lena.getByRole('button', { name: 'Save draft' }).click();
  await lena.waitForURL(/\/calibrations\/\d+$/);
  await lena.getByText(/^Next coupon: \d+(\.5)? V\.$/).waitFor();
  await lena.getByText('You edited this draft, so somebody else must approve it.').waitFor();
  const here = lena.url();

  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin.goto(here);
  await quentin.getByRole('button', { name: 'Approve' }).click();
  await quentin.getByRole('dialog').getByRole('button', { name: 'Approve' }).click();
  await quentin.getByText('approved', { exact: true }).first().waitFor();
  await quentin.getByText('Nothing was measured since').waitFor();
  await quentin.getByRole('img', { name: /^The ladder/ }).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'calibration');
  await picture(quentin.getByRole('img', { name: /^The ladder/ }), 'ladder');

  // The draft whose orders are open says where to coat one more; the calibration in force shows what was measured since.
  await quentin.goto(`${shop.url}/calibrations`);
  await quentin.getByRole('link', { name: 'CAL-TI-5' }).click();
  await quentin.getByText(/Orders not decided: coat one more coupon at \d+(\.5)? V\./).waitFor();
  await quentin.getByText(/ways to count the orders differ by dE \d+/).waitFor();
  await quentin.getByRole('img', { name: /^The ladder/ }).waitFor();
  await look(quentin, 'calibration-undecided');
  await quentin.getByRole('button', { name: 'Approve' }).click();
  await quentin.getByRole('dialog').getByRole('button', { name: 'Approve' }).click();
  await quentin
    .getByRole('dialog')
    .getByText(/Orders not decided/)
    .waitFor();

  const tablet = await onto(quentin, {});
  await tablet.goto(`${shop.url}/calibrations`);
  await tablet.getByRole('link', { name: 'CAL-TI-2' }).click();
  await tablet.getByRole('img', { name: /^Measured since/ }).waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'calibration-tablet-dark');

  // The estimator sees at the line whether a voltage reaches the colour, and drafts the recipe from the match.
  const edgar = await enter({ browser, shop, name: 'edgar' });
  await edgar.goto(`${shop.url}/quotations/new`);
  await edgar.getByLabel('Customer').fill('Falkenau');
  await edgar.getByRole('option').first().click();
  await edgar.getByText(/S-14 is met\s+from\s+\d+\.\d\s+to\s+\d+\.\d\s+V[\s\S]*literature/).waitFor();
  await edgar.goto(`${shop.url}/quotations/new`);
  await edgar.getByLabel('Customer').fill('Harrow');
  await edgar.getByRole('option').first().click();
  const part = edgar.getByLabel('Part', { exact: true });
  const plate = await part.locator('option').filter({ hasText: 'sensor plate' }).getAttribute('value');
  await part.selectOption(plate);
  // The green of the invented shop is no colour that a film of niobium has.
  await edgar.getByText(/No voltage comes within dE 5 of HP-GREEN:/).waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'quotation-line-voltage');

  await edgar.goto(
    `${here.replace(/\/calibrations\/.*/, '')}/colour-bench?calibration=${here.split('/').at(-1) ?? ''}`,
  );
  await askForBlue(edgar);
  await edgar
    .getByText('coupons at 27.5 V and 28 V')
    .or(edgar.getByText(/coupons at 2[678](\.5)? V/))
    .first()
    .waitFor();
  await edgar.getByText(/^Bath now:/).waitFor();
  await expectAccessible(edgar);
  await look(edgar, 'colour-bench-match');
  await edgar.getByRole('button', { name: /^Draft recipe at 2\d\.\d V$/ }).click();
  await edgar.waitForURL(/\/recipes\/\d+\/draft\/\d+$/);
  await edgar.getByRole('heading', { level: 1 }).waitFor();
  const draftId = Number(edgar.url().split('/').at(-1));
  const draft = await shop.db.prisma.recipeRevision.findUniqueOrThrow({ where: { id: draftId } });
  expect(draft.changeNote).toMatch(/^By CAL-NEW rev 1: dE \d\.\d at 2\d\.\d V/);
  await look(edgar, 'recipe-draft-from-match');

  // No film of titanium is grass green.
  const evening = await onto(edgar, { dark: true });
  await evening.goto(`${shop.url}/colour-bench`);
  await askForBlue(evening);
  await evening.getByLabel('a*', { exact: true }).fill('-60');
  await evening.getByLabel('b*', { exact: true }).fill('60');
  await evening.getByText(/No voltage comes within dE 3\./).waitFor();
  await expectAccessible(evening);
  await look(evening, 'colour-bench-tablet-dark');
  expect(evening.url()).toContain('/colour-bench');
}, 240_000);
