import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { analyse, equipLab, type EquippedLab, plan } from '../support/lab.ts';
import { type Lab, numberBefore, openLab, pin, typeInto } from './lab-in-a-browser.ts';
import { enter, expectAccessible, expectHandy, look } from './shop-in-a-browser.ts';

let browser: Browser;
let lab: Lab;
let ada: Page;
let bo: Page;

beforeAll(async () => {
  [browser, lab] = await Promise.all([launchBrowser(), openLab()]);
  [ada, bo] = await Promise.all([
    enter({ browser, shop: lab, name: 'ada' }),
    enter({ browser, shop: lab, name: 'bo', size: 'tablet', dark: true }),
  ]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await lab.close();
});

const planOf = (page: Page) =>
  page.locator('section', { has: page.getByRole('heading', { name: 'The plan', exact: true }) });
const stockOf = async (plan: Locator) =>
  numberBefore(await plan.locator('dl > div', { hasText: 'Stock, total' }).innerText(), 'kg').value;
const planHref = ({ bath }: EquippedLab) => `${lab.url}/lab/baths/${bath.id}/add`;
const balanceOf = async ({ lot }: EquippedLab) => {
  const { _sum } = await lab.db.prisma.stockMovement.aggregate({
    where: { lotId: lot.id },
    _sum: { kg: true },
  });
  return Number(_sum.kg);
};

/** Everything as planned, checked by Cleo with her PIN. */
async function fillInDone(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'As planned' }).first().waitFor();
  for (const button of await page.getByRole('button', { name: 'As planned' }).all()) await button.click();
  for (const where of await page.getByLabel('Where it went').all()) await typeInto(where, 'own treatment');
  await page.getByLabel('Checked by').selectOption({ label: 'Cleo Dane' });
  await typeInto(page.getByLabel('PIN of the second person'), pin);
}

const expectAddedSince = (page: Page, number: string) =>
  page.getByRole('note').filter({ hasText: 'Added since the last analysis' }).getByText(number).waitFor();

test('the second is shown what the first added, and a plan computed from there: nothing is doubled', async () => {
  const of = await equipLab(lab.ask);
  const { number: analysis } = await analyse(lab.ask, of, { factor: 0.965 });
  for (const page of [ada, bo]) {
    await page.goto(planHref(of));
    await page.getByText(analysis).first().waitFor();
    await typeInto(page.locator('[name="request.volumeL"]'), '400');
  }
  const wanted = await stockOf(planOf(ada));
  expect(wanted).toBeGreaterThan(30);
  expect(await stockOf(planOf(bo))).toBe(wanted);
  await expectAccessible(bo);
  await expectHandy(bo);
  await look(bo, 'tablet-plan');
  await look(ada, 'desk-plan');

  await ada.getByRole('button', { name: 'Save the plan' }).click();
  await ada.getByRole('link', { name: 'Do it now' }).click();
  await fillInDone(ada);
  await expectAccessible(ada);
  await look(ada, 'desk-do');
  await ada.getByRole('button', { name: 'It is done' }).click();
  await ada.getByText('A confirming analysis is asked for', { exact: true }).waitFor();
  const number = (await ada.locator('h1 + .tag').textContent())?.trim() ?? '';
  const added = await lab.db.prisma.additionLine.aggregate({
    where: { addition: { bathId: of.bath.id } },
    _sum: { kg: true },
  });

  await bo.getByRole('button', { name: 'Save the plan' }).click();
  await bo.getByText(`The last addition is ${number}`).waitFor();
  await bo
    .getByText(/done by Ada Quill/)
    .first()
    .waitFor();
  await expectAddedSince(bo, number);
  await planOf(bo).getByText('Nothing to add').waitFor();
  const strength = await bo.locator('[name="request.massFraction"]').inputValue();
  expect(Number(strength)).toBeCloseTo(50, 1);
  expect(Number(await bo.locator('[name="request.volumeL"]').inputValue())).toBeGreaterThan(410);
  await expectAccessible(bo);
  await expectHandy(bo);
  await look(bo, 'tablet-second-refused');

  expect(await bo.getByRole('button', { name: 'Save the plan' }).isDisabled()).toBe(true);
  expect(await lab.db.prisma.addition.count({ where: { bathId: of.bath.id } })).toBe(1);
  expect(await balanceOf(of)).toBeCloseTo(200 - Number(added._sum.kg), 6);

  // Whoever opens the page afterwards starts from the same place.
  await bo.goto(planHref(of));
  await expectAddedSince(bo, number);
  await planOf(bo).getByText('Nothing to add').waitFor();
});

test('the second sees the plan of the first and does not plan beside it', async () => {
  const of = await equipLab(lab.ask);
  await analyse(lab.ask, of, { factor: 0.965 });
  for (const page of [ada, bo]) {
    await page.goto(planHref(of));
    await typeInto(page.locator('[name="request.volumeL"]'), '400');
  }
  await ada.getByRole('button', { name: 'Save the plan' }).click();
  await ada.getByRole('link', { name: 'Do it now' }).waitFor();
  const number = (await ada.locator('h1 + .tag').textContent())?.trim() ?? '';
  await bo.getByRole('button', { name: 'Save the plan' }).click();
  await bo.getByText(`${number} is planned and not done yet`).waitFor();
  await bo.getByText(/By Ada Quill/).waitFor();
  expect(await bo.getByRole('button', { name: 'Save the plan' }).count()).toBe(0);
  await expectAccessible(bo);
  await look(bo, 'tablet-planned-already');
});

test('two who do one plan book it once: the stock and the lot are right in the end', async () => {
  const of = await equipLab(lab.ask);
  const { id, number } = await plan(lab.ask, of);
  for (const page of [ada, bo]) {
    await page.goto(`${lab.url}/lab/additions/${id}/do`);
    await fillInDone(page);
  }
  await expectAccessible(bo);
  await expectHandy(bo);
  await look(bo, 'tablet-do');
  await ada.getByRole('button', { name: 'It is done' }).click();
  await ada.getByText('A confirming analysis is asked for', { exact: true }).waitFor();
  await bo.getByRole('button', { name: 'It is done' }).click();
  await bo.getByText(`${number} is done already.`).waitFor();
  expect(await lab.db.prisma.additionLine.count({ where: { additionId: id } })).toBe(1);
  expect(await balanceOf(of)).toBeCloseTo(200 - 43.48, 1);
  await bo.goto(`${lab.url}/lab/chemicals/${of.chemical.id}/lots/${of.lot.id}`);
  await bo
    .getByText(/156\.52/)
    .first()
    .waitFor();
});
