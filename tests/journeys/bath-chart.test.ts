import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, openShop, picture, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let lena: Page;
/** The oil bath of the invented shop, which nobody watches yet. */
let bath: { id: number; tankId: number; madeUpAt: Date };

const RESULTS = 40;
const ODD_ONE = 29;
const HOUR = 3_600_000;
const around = ['1.00', '1.05', '0.96', '0.99', '1.04', '0.95', '0.97', '1.06', '1.02', '0.94'];
/** Water in the oil in wt%: 1 and a little up and down, and one result far above. */
const percentAt = (index: number) => (index === ODD_ONE ? '1.80' : (around[index % around.length] ?? ''));
const notebook = (odd: string) =>
  Array.from({ length: RESULTS }, (_, index) => {
    const day = new Date(bath.madeUpAt.getTime() + (index + 1) * 48 * HOUR).toISOString();
    return `${day.slice(0, 10)} 09:00;${index === ODD_ONE ? odd : percentAt(index)};Ada`;
  });
const file = (lines: string[]) => ({
  name: 'notebook.csv',
  mimeType: 'text/csv',
  buffer: Buffer.from(['date;water %;by', ...lines].join('\n')),
});
const limits = { target: 0.01, low: null, high: 0.015, stopLow: null, stopHigh: 0.02 };

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  lena = await enter({ browser, shop, name: 'lena' });
  bath = await shop.db.prisma.bath.findFirstOrThrow({ where: { contents: 'oil', dumpedAt: null } });
  const { version } = await shop.db.prisma.bath.findUniqueOrThrow({ where: { id: bath.id } });
  const setup = await lena.request.put(`${shop.url}/api/baths/${bath.id}/setup`, {
    headers: { origin: shop.url, 'if-match': `"${version}"` },
    data: {
      solute: null,
      fullVolumeL: 100,
      freeboardL: 10,
      workingTemperatureC: 40,
      coldestTemperatureC: null,
      impurity: null,
      dragOutLPerM2: 0,
      components: [
        {
          key: 'water',
          name: 'water in the oil',
          unit: 'massFraction',
          referenceTemperatureC: null,
          ...limits,
        },
      ],
      plans: [],
      reason: 'watched from now on',
    },
  });
  expect(setup.status()).toBe(200);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('a notebook is matched to the bath, its faults are shown in their cells, and it is stored whole', async () => {
  await lena.goto(`${shop.url}/lab/import?bath=${bath.id}`);
  const choose = lena.locator('input[type=file]');
  await choose.setInputFiles(file(notebook('1,8o')));
  await lena.getByRole('button', { name: 'Check the file' }).click();
  await lena.getByText('1 cell cannot be read: nothing is stored').waitFor();
  const cell = lena.getByRole('cell', { name: /1,8o/ });
  expect(await cell.textContent()).toContain('is not a number');
  await expectAccessible(lena);

  await choose.setInputFiles(file(notebook('1.80')));
  await lena.getByRole('button', { name: 'Check the file' }).click();
  await lena.getByText(`${RESULTS} analyses can be stored`).waitFor();
  expect(await shop.db.prisma.analysis.count({ where: { bathId: bath.id } })).toBe(0);
  await lena.getByRole('button', { name: `Store ${RESULTS} analyses` }).click();
  await lena.waitForURL(/\/chart/);
  expect(await shop.db.prisma.analysis.count({ where: { bathId: bath.id } })).toBe(RESULTS);
});

test('the chart is walked by keys, zoomed by a drag, given a baseline and taken along', async () => {
  await lena.goto(`${shop.url}/lab/baths/${bath.id}/chart`);
  const chart = lena.getByRole('slider', { name: /water in the oil/ });
  await chart.waitFor();
  expect(await chart.getAttribute('aria-valuemax')).toBe(String(RESULTS));
  await expectAccessible(lena);

  // Up the flagged ones: the odd result is told with its rule and its source.
  await chart.focus();
  await lena.keyboard.press('Home');
  expect(await chart.getAttribute('aria-valuetext')).toMatch(/^Result 1 of 40: 1\.00.wt%/);
  await lena.keyboard.press('ArrowUp');
  expect(await chart.getAttribute('aria-valuenow')).toBe(String(ODD_ONE + 1));
  expect(await chart.getAttribute('aria-valuetext')).toMatch(
    /1\.80.wt%.*Nelson test 1: one point beyond 3 sigma/,
  );
  await lena.getByText('J. Quality Technology 16, 1984, 237, test 1').first().waitFor();
  await lena.getByText(/^Expected .* standard deviations\s+above/).waitFor();

  // A drag across a quarter of the chart leaves fewer results in view; "All" brings them back.
  const points = chart.locator('circle.line');
  expect(await points.count()).toBe(RESULTS);
  const box = await chart.boundingBox();
  if (!box) throw new Error('no chart');
  const drag = async (from: number, to: number) => {
    const y = box.y + box.height / 3;
    await lena.mouse.move(box.x + 70 + from * (box.width - 96), y);
    await lena.mouse.down();
    await lena.mouse.move(box.x + 70 + to * (box.width - 96), y, { steps: 5 });
    await lena.mouse.up();
  };
  await drag(0.1, 0.35);
  expect(await points.count()).toBeLessThan(RESULTS / 2);
  expect(await points.count()).toBeGreaterThan(3);
  await lena.getByRole('button', { name: 'All', exact: true }).click();
  expect(await points.count()).toBe(RESULTS);

  // A baseline drawn over the quiet beginning is saved with its reason.
  await lena.getByLabel('Drag across the chart to choose the baseline').check();
  await chart.scrollIntoViewIfNeeded();
  Object.assign(box, await chart.boundingBox());
  await drag(0, 0.4);
  await lena.getByText('Not saved yet').waitFor();
  await lena.getByRole('button', { name: 'Save baseline' }).click();
  await lena.getByLabel('Why this baseline?').fill('before the odd result');
  await lena.getByRole('dialog').getByRole('button', { name: 'Save baseline' }).click();
  await lena.getByText('“before the odd result”').waitFor();
  const [saved] = await shop.db.prisma.chartBaseline.findMany({ where: { tankId: bath.tankId } });
  expect(saved?.component).toBe('water');

  const csv = await lena.request.get(
    `${shop.url}${await lena.getByRole('link', { name: 'CSV' }).getAttribute('href')}`,
  );
  const lines = (await csv.text()).trim().split(/\r?\n/);
  expect(lines).toHaveLength(RESULTS + 1);
  expect(lines[0]?.split(',')[2]).toBe('water in the oil (wt%)');
  expect(Number(lines[ODD_ONE + 1]?.split(',')[2])).toBe(1.8);

  // About a centre there is one pair of limits for all results, and the picture names it.
  await lena.getByLabel('Compared with').selectOption('between-additions');
  await lena.getByText('upper control limit').first().waitFor();
  await lena.getByRole('button', { name: 'Save picture' }).click();
  const [download] = await Promise.all([
    lena.waitForEvent('download'),
    lena.getByRole('menuitem', { name: /SVG/ }).click(),
  ]);
  const svg = await readFile(await download.path(), 'utf8');
  expect(svg).toMatch(/^<svg[^>]*xmlns/);
  expect(svg).toContain('water in the oil');
  expect(svg).toContain('upper control limit');
});

test('three months of hot caustic: every result, and every addition between them', async () => {
  const { db, url } = shop;
  const caustic = await db.prisma.bath.findFirstOrThrow({
    where: { contents: 'hot-caustic', dumpedAt: null },
  });
  await lena.goto(`${url}/lab/baths/${caustic.id}/chart`);
  const chart = lena.getByRole('slider', { name: /potassium hydroxide/ });
  await chart.waitFor();
  const results = await db.prisma.analysisResult.count({
    where: { component: 'KOH', analysis: { bathId: caustic.id, supersededBy: null } },
  });
  expect(results).toBeGreaterThan(20);
  expect(await chart.getAttribute('aria-valuemax')).toBe(String(results));
  await expectAccessible(lena);
  await picture(lena, 'bath-chart');
});
