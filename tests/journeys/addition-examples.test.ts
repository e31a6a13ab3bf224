import type { AnalysisMethod, Bath, ChemicalLot } from '@huelot/contracts';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { a5 } from '../../packages/calc/reference/bath/requests.ts';
import { a7From380Printed, raiseByOnePrinted } from '../../packages/calc/reference/bath/printed-additions.ts';
import { launchBrowser } from '../support/browser.ts';
import { addBath, addTank, post, putSetup } from '../support/lab.ts';
import { additionExamples } from './addition-examples.ts';
import { type EnteredAddition, setupOf } from './entered-addition.ts';
import { expectFigure, type Lab, numberBefore, openLab, typeInto } from './lab-in-a-browser.ts';
import { enter } from './shop-in-a-browser.ts';

let browser: Browser;
let lab: Lab;
let ada: Page;

beforeAll(async () => {
  [browser, lab] = await Promise.all([launchBrowser(), openLab()]);
  ada = await enter({ browser, shop: lab, name: 'ada' });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await lab.close();
});

let stocks = 0;
/** Tank, fill, how it is watched, and the stock that the example takes. */
async function prepare(example: EnteredAddition): Promise<{ bath: Bath; lot: ChemicalLot }> {
  const { setup, stock } = example;
  const tank = await addTank(lab.ask);
  const bath = await addBath(lab.ask, tank.id);
  await putSetup(lab.ask, bath.id, setupOf(example));
  stocks += 1;
  const densityKgPerM3 = stock.densityKgPerM3 ?? null;
  const assay = { assayMassFraction: stock.massFraction, densityKgPerM3 };
  const chemical = await post<{ id: number }>(lab.ask, '/api/chemicals', {
    ...{ code: `EX-${stocks}`, name: 'Stock of the example', formula: '', solute: setup.solute },
    ...{ form: stock.form, ...assay, impurityMassFraction: 0, hazards: ['corrosive'], supplier: '' },
    ...{ reorderPointKg: null, pricePerKg: null, sdsFileId: null, notes: '' },
  });
  const lot = await post<ChemicalLot>(lab.ask, `/api/chemicals/${chemical.id}/lots`, {
    ...{ supplierLot: `L-${stocks}`, receivedAt: new Date().toISOString(), quantityKg: 2000 },
    ...{ ...assay, expiresOn: null, quarantined: false, notes: '' },
  });
  if (setup.impurity) await findCarbonate(bath, a5.impurity.gramsPerLitre);
  return { bath, lot };
}

async function findCarbonate(bath: Bath, gramsPerLitre: number): Promise<void> {
  const { items } = (await lab.ask({ url: '/api/methods?limit=200' })).json<{ items: AnalysisMethod[] }>();
  await post(lab.ask, `/api/baths/${bath.id}/analyses`, {
    ...{ methodId: items.find(({ code }) => code === 'AS-FOUND')?.id, why: 'asked', samplePoint: '' },
    ...{ sampledAt: new Date().toISOString(), analysedAt: new Date().toISOString(), volumeL: null },
    ...{
      agitation: null,
      bathTemperatureC: null,
      titrantId: null,
      instrumentId: null,
      answer: '',
      notes: '',
    },
    readings: {
      kind: 'plain',
      values: [
        {
          component: 'KOH',
          unit: 'massFraction',
          referenceTemperatureC: null,
          value: 0.4,
          standardUncertainty: null,
        },
        {
          ...{ component: 'K2CO3', unit: 'gramsPerLitre', referenceTemperatureC: a5.temperatureC },
          ...{ value: gramsPerLitre, standardUncertainty: null },
        },
      ],
    },
  });
}

async function enterExample(example: EnteredAddition): Promise<Locator> {
  const { bath, lot } = await prepare(example);
  await ada.goto(`${lab.url}/lab/baths/${bath.id}/add?kind=${example.kind}`);
  for (const [name, value] of Object.entries(example.typed))
    await typeInto(ada.locator(`[name="request.${name}"]`), String(value));
  if (example.dipMm !== undefined) await typeInto(ada.getByLabel(/^Below the mark/), String(example.dipMm));
  if (example.kind !== 'water')
    await ada.locator('[name="request.chemicalLotId"]').selectOption(String(lot.id));
  await typeInto(ada.locator('[name="reason"]'), 'worked example');
  return ada.locator('section', { has: ada.getByRole('heading', { name: 'The plan', exact: true }) });
}

const factOf = (within: Locator, label: string) =>
  within.locator('dl > div', { has: ada.locator('dt', { hasText: new RegExp(`^${label}$`) }) });
const stepOf = (within: Locator, what: string) =>
  within.getByRole('listitem').filter({ has: ada.getByText(what, { exact: true }) });

async function expectWarming(plan: Locator, right: NonNullable<EnteredAddition['warmsK']>): Promise<void> {
  const [about = '', most = ''] = (
    await factOf(plan, 'Temperature rise, if added at once').innerText()
  ).split('at most');
  if (right.about) expectFigure(about, 'K', right.about);
  expectFigure(most, 'K', right.most);
}

async function expectHeat(plan: Locator, right: readonly [number, number]): Promise<void> {
  await factOf(plan, 'Temperature rise, if added at once').getByRole('button').click();
  const row = ada.getByRole('dialog').getByRole('row').filter({ hasText: 'Heat given off at most' });
  expectFigure(await row.innerText(), 'kJ', right);
  await ada.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
}

async function savePlan(): Promise<Locator> {
  await ada.getByRole('button', { name: 'Save the plan' }).click();
  await ada.getByRole('link', { name: 'Do it now' }).waitFor();
  return ada.getByRole('table', { name: /before and after/ });
}
const cellOf = (table: Locator, row: string, column: 'Before' | 'After') =>
  table
    .getByRole('row', { name: new RegExp(`^${row} `) })
    .getByRole('cell')
    .nth(column === 'Before' ? 0 : 1);

test.each(additionExamples)('$name', async (example) => {
  const plan = await enterExample(example);
  for (const [label, unit, right] of example.facts ?? [])
    expectFigure(await factOf(plan, label).innerText(), unit, right);
  for (const [what, unit, right] of example.steps ?? [])
    expectFigure(await stepOf(plan, what).innerText(), unit, right);
  for (const [words, unit, right] of example.words ?? [])
    expectFigure(await plan.locator('p', { hasText: words }).innerText(), unit, right);
  for (const what of example.without ?? []) expect(await stepOf(plan, what).count(), what).toBe(0);
  if (example.warmsK) await expectWarming(plan, example.warmsK);
  if (example.heatKj) await expectHeat(plan, example.heatKj);

  const record = await savePlan();
  for (const [row, column, unit, right] of example.record ?? [])
    expectFigure(await cellOf(record, row, column).innerText(), unit, right);
  for (const [what, unit, right] of example.steps ?? [])
    expectFigure(await stepOf(ada.getByRole('main'), what).innerText(), unit, right);
});

const named = (name: string): EnteredAddition => {
  const found = additionExamples.find((one) => one.name === name);
  if (!found) throw new Error(`no example ${name}`);
  return found;
};

test('A7 from 380 L: the masses that the record shows give the flake that room for its water would allow', async () => {
  await enterExample(named('A7 from 380 L: no room for water'));
  const record = await savePlan();
  const kg = async (column: 'Before' | 'After') =>
    numberBefore(await cellOf(record, 'Mass', column).innerText(), 'kg').value;
  const [right] = a7From380Printed.balanceKg;
  expect((0.5 * (await kg('After')) - 0.465 * (await kg('Before'))) / 0.9).toBeCloseTo(right, 1);
});

test('a raise by one per cent is uncertain by a third of itself, and part of it is held back', async () => {
  const { typed, ...example } = named('A1, raised with flake');
  const plan = await enterExample({ ...example, typed: { ...typed, massFraction: 49 } });
  const certain = (await factOf(plan, 'Uncertainty').innerText()).replaceAll('\u00a0', ' ');
  const [right, within] = raiseByOnePrinted.relative;
  expectFigure(certain, '%', [100 * right, 100 * within]);
  const [, kg, plusMinus] = /([\d.]+) ± ([\d.]+) kg/.exec(certain) ?? [];
  expect(Math.abs(Number(plusMinus) / 2 / Number(kg) - right)).toBeLessThan(within);
  // Both to the same place, and no more than two figures of the uncertainty.
  expect(kg?.split('.')[1]?.length).toBe(plusMinus?.split('.')[1]?.length);
  expect(plusMinus?.replace('.', '')).toMatch(/^\d{2}$/);
  expect(await stepOf(plan, 'later').first().innerText()).toContain('Held back');
});
