import type { AnalysisMethod, Bath, BathComponent, TankContents, TitrantLot } from '@huelot/contracts';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { PrintedAmount } from '../../packages/calc/reference/bath/printed-titrations.ts';
import type { Printed } from '../../packages/calc/reference/worked-examples.ts';
import { launchBrowser } from '../support/browser.ts';
import { addBath, addTank, post, putSetup } from '../support/lab.ts';
import { componentName } from '../../apps/web/src/lib/features/lab/result-text.ts';
import { expectFigure, type Lab, openLab, typeInto } from './lab-in-a-browser.ts';
import { enter } from './shop-in-a-browser.ts';
import { type EnteredExample, titrationExamples, type Watched } from './titration-examples.ts';

let browser: Browser;
let lab: Lab;
let ada: Page;

const watchedAs = (unit: BathComponent['unit']) => (key: string) => ({
  key,
  name: key,
  unit,
  referenceTemperatureC: 20,
  ...{ target: null, low: null, high: null, stopLow: null, stopHigh: null },
});
const inMoles = ['KOH', 'K2CO3', 'totalAlkali', 'Na3PO4', 'Na3PO4-left', 'Na2HPO4', 'NaOH'];
const components: Record<Watched, BathComponent[]> = {
  nothing: [],
  moles: inMoles.map(watchedAs('molPerLitre')),
  'grams at 20 °C': [watchedAs('gramsPerLitre')('KOH')],
  'mass fraction': [{ ...watchedAs('massFraction')('KOH'), referenceTemperatureC: null }],
};

/** What stands in the tank that a sample of this method comes from. */
function contentsFor({ method, float }: EnteredExample): TankContents {
  if (method === 'PHOSPHORIC') return 'phosphoric';
  return method.startsWith('ACID') || float?.solute === 'H2SO4' ? 'sulfuric-anodize' : 'hot-caustic';
}

/** A bath of its own for each example, so that no result is held against that of another one. */
async function bathFor(example: EnteredExample): Promise<Bath> {
  const { watched = 'nothing' } = example;
  const tank = await addTank(lab.ask, contentsFor(example));
  const bath = await addBath(lab.ask, tank.id);
  if (watched !== 'nothing')
    await putSetup(lab.ask, bath.id, {
      ...{ solute: 'KOH', fullVolumeL: 400, freeboardL: 30, workingTemperatureC: 60 },
      ...{ coldestTemperatureC: null, impurity: null, dragOutLPerM2: 0, plans: [] },
      components: components[watched],
      reason: 'first setup',
    });
  return bath;
}

beforeAll(async () => {
  [browser, lab] = await Promise.all([launchBrowser(), openLab()]);
  ada = await enter({ browser, shop: lab, name: 'ada' });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await lab.close();
});

/** The method as the example has it: one flask, with the uncertainties that it states. */
async function methodOf({ name, method, settings }: EnteredExample): Promise<string> {
  const { items } = (await lab.ask({ url: '/api/methods?limit=200' })).json<{ items: AnalysisMethod[] }>();
  const base = items.find(({ code }) => code === method);
  if (base === undefined) throw new Error(`there is no method ${method}`);
  const { kind, procedure, formula, source } = base;
  const code = `EX-${items.length}`;
  const draft = await post<AnalysisMethod>(lab.ask, '/api/methods', {
    ...{ code, name, kind, procedure, formula, source },
    settings: { ...base.settings, replicates: 1, ...settings },
  });
  const reply = await lab.ask({
    method: 'POST',
    url: `/api/methods/${draft.id}/activate`,
    headers: { 'if-match': `"${draft.version}"` },
    payload: {},
  });
  expect(reply.statusCode).toBe(200);
  return `${code} rev 1: ${name}`;
}

async function bottleOf({ name, titrant }: EnteredExample): Promise<number | null> {
  if (!titrant) return null;
  const [reagent, eqPerLitre, standardUncertaintyEqPerLitre] = titrant;
  const facts = { reagent, eqPerLitre, standardUncertaintyEqPerLitre, label: `bottle of ${name}`, notes: '' };
  const dates = { expiresOn: null, standardisedOn: new Date().toISOString().slice(0, 10) };
  return (await post<TitrantLot>(lab.ask, '/api/titrants', { ...facts, ...dates })).id;
}

/** Types the example into the form as it stands open. */
async function enterExample(page: Page, example: EnteredExample, titrantId: number | null): Promise<void> {
  for (const [name, value] of Object.entries(example.typed))
    await typeInto(page.locator(`[name="readings.replicates.0.${name}"]`), String(value));
  if (titrantId !== null) await page.getByLabel('Bottle of titrant').selectOption(String(titrantId));
  if (!example.float) return;
  const { solute, dissolved } = example.float;
  await page.locator('[name="readings.solute"]').selectOption(solute);
  await page.getByLabel(dissolved === 'nothing' ? 'Nothing' : 'From another analysis').check();
  if (dissolved === 'nothing') return;
  await page.locator('[name="readings.dissolved.0.solute"]').selectOption(dissolved.salt);
  await typeInto(
    page.locator('[name="readings.dissolved.0.gramsPerLitre"]'),
    String(dissolved.gramsPerLitre),
  );
}

/** What stands behind ± on a page is twice the standard uncertainty. */
const inTwo = ([right, within]: Printed): Printed => [2 * right, 2 * within];

async function expectAmount(row: Locator, amount: PrintedAmount): Promise<void> {
  const text = (await row.innerText()).replaceAll('\u00a0', ' ');
  // The figure itself stands before ±, its unit behind; what ± takes off it stands beside.
  const plain = text.replace(/ ± [\d.]+/, '');
  const [plusMinus = ''] = /± [\d.]+ \S+/.exec(text) ?? [];
  if (plain.includes('mol/L')) {
    if (amount.molPerLitre) expectFigure(plain, 'mol/L', amount.molPerLitre);
    return;
  }
  if (amount.uMassPercent) expectFigure(plusMinus, 'wt%', inTwo(amount.uMassPercent));
  if (amount.uGramsPerLitre) expectFigure(plusMinus, 'g/L', inTwo(amount.uGramsPerLitre));
  if (amount.uPercent) expectFigure(/standard uncertainty .*?%/.exec(text)?.[0] ?? '', '%', amount.uPercent);
  if (amount.gramsPerLitre) expectFigure(plain, 'g/L', amount.gramsPerLitre);
  if (amount.massPercent) expectFigure(plain, 'wt%', amount.massPercent);
}

test.each(titrationExamples)('$name', async (example) => {
  const [label, titrantId, bath] = await Promise.all([
    methodOf(example),
    bottleOf(example),
    bathFor(example),
  ]);
  await ada.goto(`${lab.url}/lab/baths/${bath.id}/analyse`);
  await ada.getByLabel('Method', { exact: true }).selectOption({ label });
  await enterExample(ada, example, titrantId);

  const result = ada.getByRole('complementary', { name: 'Result so far' });
  for (const [component, amount] of Object.entries(example.found)) {
    const name = componentName({ component, name: component });
    const row = result.locator('dl > div', { has: ada.getByText(name, { exact: true }) });
    await expectAmount(row, amount);
  }
  if (example.gramsPerMl) expectFigure(await result.innerText(), 'g/mL', example.gramsPerMl);

  await ada.getByRole('button', { name: 'Save the analysis' }).click();
  await ada.getByRole('heading', { name: `Analysis of ${bath.tankCode}` }).waitFor();
  for (const [component, amount] of Object.entries(example.found)) {
    const name = componentName({ component, name: component });
    const row = ada.getByRole('listitem').filter({ has: ada.getByText(name, { exact: true }) });
    await expectAmount(row, amount);
  }
});
