import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { numberBefore, typeInto } from './lab-in-a-browser.ts';
import {
  enter,
  expectAccessible,
  expectHandy,
  look,
  onto,
  openShop,
  type Shop,
  signStep,
} from './shop-in-a-browser.ts';

const pin = '4070';
let browser: Browser;
let shop: Shop;
/** At the desk; the tablet takes their sign-in over. */
const desk: Partial<Record<'lena' | 'omar' | 'olive', Page>> = {};

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  const names = ['lena', 'omar', 'olive'] as const;
  await Promise.all(names.map(async (name) => (desk[name] = await enter({ browser, shop, name }))));
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const bathOf = (tankCode: string) =>
  shop.db.prisma.bath.findFirstOrThrow({ where: { tank: { code: tankCode }, dumpedAt: null } });

/** Enough flake for a whole fill of caustic. */
async function receiveFlake(page: Page, supplierLot: string): Promise<void> {
  const { id } = await shop.db.prisma.chemical.findFirstOrThrow({ where: { code: 'KOH-90' } });
  const received = await page.request.post(`${shop.url}/api/chemicals/${id}/lots`, {
    headers: { origin: shop.url },
    data: {
      ...{ supplierLot, receivedAt: new Date().toISOString(), quantityKg: 1000, assayMassFraction: 0.9 },
      ...{ densityKgPerM3: null, expiresOn: null, quarantined: false, notes: '' },
    },
  });
  expect(received.status(), await received.text()).toBe(201);
}

describe.each([
  { size: 'desk', dark: false },
  { size: 'tablet', dark: true },
] as const)('the life of a bath: %o', (visit) => {
  const { size } = visit;
  let lena: Page;
  let omar: Page;
  let olive: Page;
  beforeAll(async () => {
    if (!desk.lena || !desk.omar || !desk.olive) throw new Error('nobody signed in');
    [lena, omar, olive] =
      size === 'desk'
        ? [desk.lena, desk.omar, desk.olive]
        : await Promise.all([onto(desk.lena, visit), onto(desk.omar, visit), onto(desk.olive, visit)]);
  });

  /** Passed through: axe clean, within reach of wet hands, and a picture to look at. */
  async function passed(page: Page, name: string): Promise<void> {
    await expectAccessible(page);
    if (size === 'tablet') await expectHandy(page);
    await look(page, `${size}-${name}`);
  }

  test('a fill is dumped, started anew and made up by its sheet, in portions that stay below boiling', async () => {
    const old = await bathOf('T6');
    const supplierLot = `drum-${size}`;
    await receiveFlake(lena, supplierLot);
    await lena.goto(`${shop.url}/lab/baths/${old.id}`);
    await lena.getByRole('button', { name: 'Dump', exact: true }).click();
    await typeInto(lena.getByLabel('Reason'), 'carbonate');
    await typeInto(lena.getByLabel('Where it went'), 'own treatment');
    await lena.getByRole('button', { name: 'Dump the bath' }).click();
    await lena.getByText('This bath was dumped').waitFor();

    await lena.goto(`${shop.url}/lab/fill`);
    const tank = lena.getByLabel('Tank', { exact: true });
    await tank.selectOption(await tank.locator('option', { hasText: /^T6 / }).getAttribute('value'));
    await lena.getByRole('button', { name: 'Start the bath' }).click();
    await lena.getByRole('link', { name: 'Make-up sheet' }).click();

    const stock = lena.locator('[name="request.chemicalLotId"]');
    await stock.selectOption(await stock.locator('option', { hasText: supplierLot }).getAttribute('value'));
    const rise = lena.locator('dl > div', { hasText: 'Temperature rise, if added at once' });
    const [about = '', most = ''] = (await rise.innerText()).split('at most');
    const expected = numberBefore(about, 'K').value;
    // 48 of 57.61 kJ/mol, to two figures.
    expect(expected / numberBefore(most, 'K').value).toBeCloseTo(48 / 57.61, 1);
    await passed(lena, 'make-up');
    await lena.getByRole('button', { name: 'Save the plan' }).click();
    await lena.getByRole('heading', { name: 'Make-up sheet' }).waitFor();
    await lena.getByText(`Added all at once it would warm up by about ${expected}`).waitFor();
    await passed(lena, 'make-up-sheet');

    await lena.getByRole('link', { name: 'Do it now' }).click();
    await lena.getByRole('button', { name: 'As planned' }).first().waitFor();
    for (const button of await lena.getByRole('button', { name: 'As planned' }).all()) await button.click();
    await lena.getByLabel('Checked by').selectOption({ label: 'Omar Reed' });
    await typeInto(lena.getByLabel('PIN of the second person'), pin);
    await lena.getByRole('button', { name: 'It is done' }).click();
    await lena.getByText('A confirming analysis is asked for', { exact: true }).waitFor();
    await passed(lena, 'make-up-done');
    const madeUp = (await lena.locator('h1 + .tag').textContent())?.trim() ?? '';
    const { id, number } = await bathOf('T6');
    expect(number).not.toBe(old.number);
    // Two requests wait now: that of the fill and that of its make-up.
    await lena.goto(`${shop.url}/lab/baths/${id}`);
    await lena.getByText('the new bath waits for its first analysis').waitFor();
    await lena.getByText(`${madeUp} waits for its confirming analysis`).waitFor();
    await passed(lena, 'made-up');
    await lena.goto(`${shop.url}/today`);
    await lena
      .getByRole('region', { name: /^Baths on hold/ })
      .getByText(`T6, ${number}`)
      .waitFor();
  });

  test('a begun addition is withdrawn, and its bath is free again', async () => {
    const bath = await bathOf('T11');
    const at = `${shop.url}/lab/baths/${bath.id}`;
    await lena.goto(`${at}/add?kind=chemical`);
    const save = lena.getByRole('button', { name: 'Save the plan' });
    const target = lena.locator('[name="request.targetGramsPerLitre"]');
    const strength = lena.locator('[name="request.massFraction"]');
    await typeInto(target, '190');
    await typeInto(strength, '190');
    await lena.getByText('Nothing to add', { exact: true }).waitFor();
    expect(await save.isDisabled()).toBe(true);
    await typeInto(strength, '170');
    await typeInto(lena.locator('[name="reason"]'), 'low since Monday');
    await save.click();
    await lena.getByRole('button', { name: 'Begin: bath on hold' }).click();
    await lena.getByRole('button', { name: 'Put the bath on hold' }).click();
    await lena.getByText(/has been on hold since/).waitFor();
    await passed(lena, 'begun');
    await lena.getByRole('button', { name: 'Withdraw', exact: true }).click();
    await lena.getByText(/the bath is released from the hold/).waitFor();
    await typeInto(lena.getByRole('dialog').getByLabel('Reason'), 'pump failed');
    await passed(lena, 'withdraw');
    await lena.getByRole('button', { name: 'Withdraw the plan' }).click();
    await lena.getByText(/^Withdrawn by/).waitFor();
    expect(await lena.getByText(/has been on hold since/).count()).toBe(0);
  });

  test('a bath on hold takes a named word at the tank, which the trace of the lot keeps', async () => {
    const lot = await shop.db.prisma.lot.findFirstOrThrow({ where: { status: 'released', held: false } });
    const { tankId } = await shop.db.prisma.travelerStep.findFirstOrThrow({
      where: { traveler: { lotId: lot.id, status: 'issued' } },
      orderBy: { position: 'asc' },
    });
    const bath = await shop.db.prisma.bath.findFirstOrThrow({
      where: { tankId: tankId ?? 0, dumpedAt: null },
    });
    await lena.goto(`${shop.url}/lab/baths/${bath.id}`);
    await lena.getByRole('button', { name: 'Put on hold' }).click();
    await typeInto(lena.getByRole('dialog').getByLabel('Reason'), 'cloudy since the morning');
    await lena.getByRole('button', { name: 'Put it on hold' }).click();
    await lena.getByText(/has been on hold since/).waitFor();
    await passed(lena, 'held');

    await omar.goto(`${shop.url}/today`);
    const held = omar.getByRole('region', { name: /^Baths on hold/ });
    await held.getByRole('link', { name: /cloudy since the morning/ }).waitFor();
    await passed(omar, 'today');
    await omar.goto(`${shop.url}/tankside/${lot.id}`);
    await omar.getByRole('button', { name: 'Override' }).click();
    const gate = omar.getByRole('dialog');
    await typeInto(gate.getByLabel('Reason'), 'looked at it, clear again');
    await gate.getByLabel('Override by').selectOption({ label: 'Petra Vale' });
    await typeInto(gate.getByLabel('PIN'), pin);
    await passed(omar, 'override');
    await gate.getByRole('button', { name: 'Take responsibility' }).click();
    await omar.getByText('Override by Petra Vale:').waitFor();
    await typeInto(omar.getByLabel(/^Temperature \(/), '58');
    await signStep(omar);
    await omar.getByText(/Step 2 of/).waitFor();

    await lena.goto(`${shop.url}/lots/${lot.id}/trace`);
    await lena.getByText('Override by Petra Vale:').waitFor();
    await lena.getByText(/on hold by Lena Frost: cloudy since the morning/).waitFor();
    await passed(lena, 'trace');

    await lena.goto(`${shop.url}/lab/baths/${bath.id}`);
    await lena.getByRole('button', { name: 'Release the bath' }).click();
    await typeInto(lena.getByRole('dialog').getByLabel('Why work may go on'), 'filtered, clear');
    await passed(lena, 'release');
    await lena.getByRole('button', { name: 'Release it' }).click();
    await lena.getByText(/has been on hold since/).waitFor({ state: 'detached' });
    await lena.getByRole('cell', { name: 'filtered, clear' }).first().waitFor();
  });

  test('the report of an outside laboratory stands with its file beside the figures', async () => {
    const bath = await bathOf('T6');
    const content = `%PDF-1.7\nKOH 49.80 %, ${size}\n%%EOF\n`;
    await lena.goto(`${shop.url}/lab/baths/${bath.id}/analyse`);
    const method = lena.getByLabel('Method', { exact: true });
    const asFound = await method.locator('option', { hasText: 'AS-FOUND' }).getAttribute('value');
    await method.selectOption(asFound);
    await typeInto(lena.locator('[name="readings.values.0.value"]'), '49.8');
    await lena.getByLabel('Reported by an outside laboratory').check();
    await typeInto(lena.getByLabel('Laboratory', { exact: true }), 'Northmoor Analytical');
    await typeInto(lena.getByLabel('Number of the report'), `NM-${size}`);
    await lena.getByLabel('Date of the report').fill(new Date().toISOString().slice(0, 10));
    const file = { name: `NM-${size}.pdf`, mimeType: 'application/pdf', buffer: Buffer.from(content) };
    await lena.locator('input[type="file"]').setInputFiles(file);
    await lena.getByRole('link', { name: file.name }).waitFor();
    await passed(lena, 'outside');
    await lena.getByRole('button', { name: 'Save the analysis' }).click();
    await lena.getByRole('heading', { name: 'Analysis of T6' }).waitFor();
    await lena.getByText('Northmoor Analytical').waitFor();
    await passed(lena, 'outside-saved');
    const href = await lena.getByRole('link', { name: file.name }).getAttribute('href');
    const kept = await lena.request.get(`${shop.url}${href ?? ''}`);
    expect(await kept.text()).toBe(content);
  });

  test('what chemicals cost and how much is used goes from the stock into the rates', async () => {
    await olive.goto(`${shop.url}/rates/stock`);
    const price = olive
      .getByRole('row')
      .filter({ has: olive.getByRole('cell', { name: 'Chemical', exact: true }) })
      .first();
    await price.waitFor();
    const shown = await price.getByRole('cell').last().innerText();
    await passed(olive, 'stock');
    await olive.getByRole('link', { name: 'Copy into a new revision' }).click();
    await typeInto(olive.getByLabel(/^Why/), `from the stock, ${size}`);
    await passed(olive, 'rates-draft');
    await olive.getByRole('button', { name: 'Put in force' }).click();
    await olive.getByText(`from the stock, ${size}`).first().waitFor();
    await olive.goto(`${shop.url}/rates/stock`);
    await price.waitFor();
    const cells = await price.getByRole('cell').allInnerTexts();
    expect(cells.slice(1)).toEqual([shown, shown]);
  });
});
