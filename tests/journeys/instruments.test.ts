import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import {
  enter,
  expectAccessible,
  expectHandy,
  look,
  onto,
  openShop,
  signStep,
  type Shop,
} from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('the lab is told of a thermometer that failed, looks back, and writes down a calibration that puts it right', async () => {
  const lena = await enter({ browser, shop, name: 'lena' });
  await lena
    .getByRole('region', { name: /^Instruments to calibrate/ })
    .getByRole('link', { name: /TH-6/ })
    .click();
  await lena.getByText('It failed: nothing is measured with it until it passes').waitFor();
  await lena.getByRole('img', { name: /Error as found/ }).waitFor();
  await expectAccessible(lena);
  await look(lena, 'instrument-failed');

  await lena.getByRole('link', { name: 'Look back at the lots it touched' }).click();
  await lena.getByRole('heading', { name: 'Look back' }).waitFor();
  expect(lena.url()).toMatch(/about=instrument-\d+&from=\d{4}-\d\d-\d\d&to=/);
  await lena.getByRole('row').nth(1).waitFor();
  await look(lena, 'instrument-look-back');
  await lena.goBack();

  await lena.getByRole('link', { name: 'Write down a calibration' }).click();
  await lena
    .getByRole('textbox', { name: /^As found/ })
    .first()
    .fill('101.9');
  await lena.getByText('passes, near its limit').waitFor();
  await lena
    .getByRole('textbox', { name: /^As found/ })
    .nth(1)
    .fill('143.6');
  await lena.getByText('fails').first().waitFor();
  await lena
    .getByRole('textbox', { name: /^As left/ })
    .nth(0)
    .fill('100.2');
  await lena
    .getByRole('textbox', { name: /^As left/ })
    .nth(1)
    .fill('140.3');
  await lena.getByLabel('Note').fill('probe exchanged');
  await expectAccessible(lena);
  await look(lena, 'instrument-calibrate');
  await lena.getByRole('button', { name: 'Write down calibration' }).click();
  await lena.getByText('It was found out of tolerance, and put right').waitFor();

  // Every calibrated instrument stands in the list, and what it reads is chosen on its own page.
  await lena.goto(`${shop.url}/lab/instruments?kind=electrical-meter`);
  await lena.getByRole('link', { name: 'VM-1' }).click();
  await lena.getByRole('button', { name: 'Where it reads' }).click();
  const dialog = lena.getByRole('dialog');
  await dialog.getByLabel('Voltage').first().waitFor();
  expect(
    await dialog
      .getByLabel('Voltage')
      .evaluateAll((all) => all.filter((one) => (one as HTMLInputElement).checked).length),
  ).toBe(1);
  await expectAccessible(lena);
  await look(lena, 'instrument-places');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await lena.getByText('VM-1 saved').waitFor();

  const tablet = await onto(lena, { dark: true });
  await tablet.goto(lena.url());
  await tablet.getByRole('heading', { name: 'Calibrations of the instrument' }).waitFor();
  await tablet.getByRole('img', { name: /Error as found/ }).waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'instrument-tablet-dark');
  await tablet.setViewportSize({ width: 320, height: 700 });
  await tablet.goto(`${tablet.url()}/calibrate`);
  await tablet
    .getByRole('textbox', { name: /^As found/ })
    .first()
    .waitFor();
  await expectHandy(tablet);
  await look(tablet, 'instrument-calibrate-phone');
}, 240_000);

test('an operator signs with what reads there without a tap, or scans another; the trace says so', async () => {
  const step = await shop.db.prisma.travelerStep.findFirstOrThrow({
    where: {
      ...{ signOff: null, carriedSignOffId: null, record: { has: 'temperatureC' } },
      traveler: { status: 'issued', lot: { held: false, status: { in: ['released', 'running'] } } },
    },
    include: { traveler: true },
    orderBy: { position: 'asc' },
  });
  const thermometer = await shop.db.prisma.instrument.create({
    data: {
      code: 'TH-9',
      name: 'Spare thermometer',
      kind: 'thermometer',
      calibrationDueOn: new Date('2026-01-31'),
    },
  });
  const { lotId } = step.traveler;
  await shop.db.prisma.instrumentPlace.deleteMany({ where: { tankId: step.tankId } });
  await shop.db.prisma.instrumentPlace.create({
    data: {
      instrumentId: (await shop.db.prisma.instrument.findUniqueOrThrow({ where: { code: 'TH-1' } })).id,
      ...{ tankId: step.tankId, quantity: 'temperatureC' },
    },
  });
  const ines = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  await ines.goto(`${shop.url}/tankside/${lotId}`);
  await ines.getByText(/^Step \d+ of/).waitFor();
  // Steps before it are signed as they come.
  for (let head = 0; head < step.position - 1; head += 1) {
    if (await ines.getByText('TH-1', { exact: true }).isVisible()) break;
    await signStep(ines);
  }
  await ines.getByText('TH-1', { exact: true }).waitFor();
  await expectHandy(ines);
  await look(ines, 'tank-instrument');
  await ines.getByRole('button', { name: 'Note' }).click();
  const dialog = ines.getByRole('dialog');
  await dialog.getByRole('option', { name: /TH-9/ }).first().waitFor({ state: 'attached' });
  await dialog.getByLabel('Scan or type the code of an instrument').fill('th-9');
  await dialog.getByLabel('Scan or type the code of an instrument').press('Enter');
  expect(await dialog.getByLabel('Temperature read with').inputValue()).toBe(String(thermometer.id));
  await expectAccessible(ines);
  await look(ines, 'tank-instrument-choice');
  await dialog.getByRole('button', { name: 'Done' }).click();
  await ines.getByLabel('Temperature').fill('60');
  await signStep(ines);
  await expect
    .poll(async () =>
      shop.db.prisma.stepReading.findMany({
        where: { instrumentId: thermometer.id },
        select: { instrumentFault: true },
      }),
    )
    .toEqual([{ instrumentFault: 'overdue' }]);

  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin.goto(`${shop.url}/lots/${lotId}/trace`);
  await quentin.getByText('by TH-9 Spare thermometer').waitFor();
  await quentin.getByText('calibration overdue').first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'trace-instrument');
}, 240_000);
