import type { Analysis } from '@huelot/contracts';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { t1Printed, t6Printed } from '../../packages/calc/reference/bath/printed-titrations.ts';
import { t6 } from '../../packages/calc/reference/bath/readings.ts';
import { launchBrowser } from '../support/browser.ts';
import { addBath, addTank, analyse, equipLab } from '../support/lab.ts';
import { expectFigure, type Lab, openLab, typeInto } from './lab-in-a-browser.ts';
import { enter, expectAccessible, expectHandy, look, onto } from './shop-in-a-browser.ts';

let browser: Browser;
let lab: Lab;
/** Ada and Cleo at the desk; the tablet takes their sign-in over. */
const desk: { ada?: Page; cleo?: Page } = {};

beforeAll(async () => {
  [browser, lab] = await Promise.all([launchBrowser(), openLab()]);
  [desk.ada, desk.cleo] = await Promise.all([
    enter({ browser, shop: lab, name: 'ada' }),
    enter({ browser, shop: lab, name: 'cleo' }),
  ]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await lab.close();
});

describe.each([
  { size: 'desk', dark: false },
  { size: 'tablet', dark: true },
] as const)('at the bench: %o', ({ size, dark }) => {
  let ada: Page;
  let cleo: Page;
  beforeAll(async () => {
    if (!desk.ada || !desk.cleo) throw new Error('nobody signed in');
    ada = size === 'desk' ? desk.ada : await onto(desk.ada, { size, dark });
    cleo = size === 'desk' ? desk.cleo : await onto(desk.cleo, { size, dark });
  });

  /** Passed through: axe clean, within reach of wet hands, and a picture to look at. */
  async function passed(page: Page, name: string): Promise<void> {
    await expectAccessible(page);
    if (size === 'tablet') await expectHandy(page);
    await look(page, `${size}-${name}`);
  }
  const result = () => ada.getByRole('complementary', { name: 'Result so far' });
  const choose = async (bathId: number, method: string) => {
    await ada.goto(`${lab.url}/lab/baths/${bathId}/analyse`);
    const select = ada.getByLabel('Method', { exact: true });
    const option = select.locator('option', { hasText: `${method} rev ` });
    await select.selectOption(await option.getAttribute('value'));
  };
  const fieldOf = (name: string) => ada.locator(`[name="${name}"]`);
  const save = async () => {
    await ada.getByRole('button', { name: 'Save the analysis' }).click();
    await ada.getByRole('heading', { name: /^Analysis of/ }).waitFor();
  };

  test('a float is read with the temperature in its cylinder', async () => {
    const bath = await addBath(lab.ask, (await addTank(lab.ask)).id);
    await choose(bath.id, 'FLOAT');
    await typeInto(fieldOf('readings.replicates.0.reading'), String(t6.reading));
    await typeInto(fieldOf('readings.replicates.0.temperatureC'), String(t6.sampleTemperatureC));
    await result().getByText('carbonate or metal makes it read high').waitFor();
    await ada.getByLabel('Nothing').check();
    expectFigure(await result().innerText(), 'wt%', t6Printed.KOH.massPercent);
    await passed(ada, 'float');
    await save();
    await ada.getByText('40.0 °C').first().waitFor();
    await passed(ada, 'float-saved');
  });

  test('a pH meter past its calibration is said to be, on the form and on the record', async () => {
    const code = `PH-${size}`;
    await ada.goto(`${lab.url}/lab/instruments`);
    await ada.getByRole('button', { name: 'New instrument' }).click();
    const dialog = ada.getByRole('dialog');
    await typeInto(dialog.getByLabel('Code'), code);
    await typeInto(dialog.getByLabel('Name'), 'pH meter at the line');
    await dialog.getByLabel('Kind').selectOption('ph-meter');
    await dialog.getByLabel(/^Calibration due/).fill('2026-01-31');
    await passed(ada, 'new-instrument');
    await dialog.getByRole('button', { name: 'Save instrument' }).click();
    await ada.getByRole('row').filter({ hasText: code }).getByText('overdue').waitFor();
    await passed(ada, 'instruments');

    const bath = await addBath(lab.ask, (await addTank(lab.ask)).id);
    await choose(bath.id, 'PH');
    await typeInto(fieldOf('readings.replicates.0.reading'), '12,15');
    await typeInto(fieldOf('readings.temperatureC'), '25');
    const option = fieldOf('instrumentId').locator('option', { hasText: code });
    await fieldOf('instrumentId').selectOption(await option.getAttribute('value'));
    await ada.getByText(`The calibration of ${code} was due`).waitFor();
    await result().getByText('12.15').waitFor();
    await passed(ada, 'ph');
    await save();
    await ada.getByText(`${code}, calibration due 31 Jan 2026`).waitFor();

    await choose(bath.id, 'CONDUCTIVITY');
    await typeInto(fieldOf('readings.replicates.0.reading'), '24.6');
    await typeInto(fieldOf('readings.temperatureC'), '25');
    await result().getByText('24.6').waitFor();
    await save();
    await ada.getByText(/24\.6/).first().waitFor();
  });

  test('a look at the bath is judged and told in words', async () => {
    const bath = await addBath(lab.ask, (await addTank(lab.ask)).id);
    await choose(bath.id, 'LOOK');
    await ada.getByRole('radio', { name: /^Not good/ }).check();
    await typeInto(fieldOf('readings.words'), 'milky, a skin of oil');
    await passed(ada, 'look');
    await save();
    await ada.getByText('milky, a skin of oil').waitFor();
    await ada.getByText('not good').first().waitFor();

    await choose(bath.id, 'TURBIDITY');
    await typeInto(fieldOf('readings.replicates.0.reading'), '18');
    await typeInto(fieldOf('readings.temperatureC'), '25');
    await result().getByText('18.0').waitFor();
    await save();
  });

  test('an analysis is reviewed by somebody else than its analyst', async () => {
    const of = await equipLab(lab.ask);
    const analysis = await analyse(lab.ask, of);
    const address = `${lab.url}/lab/analyses/${analysis.id}`;
    await ada.goto(address);
    await ada.getByRole('button', { name: 'Print' }).waitFor();
    expect(await ada.getByRole('button', { name: 'Review', exact: true }).count()).toBe(0);
    await cleo.goto(address);
    await cleo.getByRole('button', { name: 'Review', exact: true }).click();
    await cleo.getByRole('button', { name: 'Reviewed', exact: true }).click();
    await cleo.getByText('reviewed', { exact: true }).waitFor();
    await cleo.getByText(/^Cleo Dane, /).waitFor();
    await passed(cleo, 'reviewed');
  });

  test('a strength that was wrong is corrected, and its analysis recalculated', async () => {
    const of = await equipLab(lab.ask);
    const old = await analyse(lab.ask, of);
    await ada.goto(`${lab.url}/lab/instruments`);
    const card = ada.getByRole('article').filter({ hasText: of.titrant.label });
    await card.getByRole('button', { name: 'Standardise or correct' }).click();
    const dialog = ada.getByRole('dialog');
    await dialog.getByRole('radio', { name: /^A correction/ }).check();
    await typeInto(dialog.getByLabel(/^Concentration \(eq\/L\)/), '0.51');
    await typeInto(dialog.getByLabel(/^Standard uncertainty/), '0.0005');
    await typeInto(dialog.getByLabel('What was wrong'), 'weighed with the wrong tare');
    await passed(ada, 'correct-strength');
    await dialog.getByRole('button', { name: 'Save concentration' }).click();
    await dialog.getByText('Saved, and 1 analysis recalculated').waitFor();
    await dialog.getByRole('link').click();

    await ada.getByText(`It replaces ${old.number}`).waitFor();
    await ada
      .getByText(/weighed with the wrong tare/)
      .first()
      .waitFor();
    const row = ada.getByRole('listitem').filter({ hasText: 'potassium hydroxide' });
    const [right, within] = t1Printed.KOH.gramsPerLitre;
    expectFigure(await row.innerText(), 'g/L', [(right * 0.51) / 0.5, within]);
    await passed(ada, 'recalculated');
    await ada.getByRole('link', { name: 'The first record' }).click();
    await ada.getByText(/replaced it/).waitFor();
    const kept = (await lab.ask({ url: `/api/analyses/${old.id}` })).json<Analysis>();
    expect(kept.results).toEqual(old.results);
  });
});
