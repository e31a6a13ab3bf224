import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, expectHandy, openShop, look, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let lena: Page;
let omar: Page;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  lena = await enter({ browser, shop, name: 'lena' });
  omar = await enter({ browser, shop, name: 'omar', size: 'tablet', dark: true });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const INTERVAL_S = '2';
const seriesId = async () =>
  (await shop.db.prisma.couponSeries.findFirstOrThrow({ where: { code: 'TI-5-TSP', status: 'draft' } })).id;

/** A strip of three bands beside a white card, as a camera might take it under a warm lamp. */
const photo = (page: Page): Promise<number[]> =>
  page.evaluate(async () => {
    const canvas = new OffscreenCanvas(400, 100);
    const pen = canvas.getContext('2d');
    ['rgb(250 240 220)', 'rgb(180 150 60)', 'rgb(120 60 120)', 'rgb(40 60 140)'].forEach((colour, index) => {
      if (pen === null) return;
      pen.fillStyle = colour;
      pen.fillRect(100 * index, 0, 100, 100);
    });
    return [...new Uint8Array(await (await canvas.convertToBlob()).arrayBuffer())];
  });

test('a strip is planned at the desk, lifted at the tank through a reload, and read from a photo into the draft', async () => {
  const series = await seriesId();
  await lena.goto(`${shop.url}/lab/coupons/${series}`);
  await lena.getByRole('link', { name: 'Plan a trial' }).click();
  await lena.getByRole('heading', { name: 'Plan a trial' }).waitFor();
  await lena.getByRole('radio', { name: /^Strip/ }).check();
  await lena.getByLabel('Bands').fill('3');
  await lena.getByLabel(/^Lifted every/).fill(INTERVAL_S);
  await lena.getByLabel(/^Temperature/).fill('21');
  await lena.getByLabel(/^Cell voltage/).fill('28');
  await expectAccessible(lena);
  await lena.getByRole('button', { name: 'Plan trial' }).click();
  await lena.getByRole('heading', { name: /^Strip of 3 bands/ }).waitFor();
  const number =
    (await lena
      .getByText(/^TR-\d+$/)
      .first()
      .textContent()) ?? '';
  await expectAccessible(lena);

  await omar.goto(`${shop.url}/tankside`);
  await omar.getByRole('link', { name: new RegExp(number) }).click();
  await omar.getByRole('button', { name: 'In', exact: true }).click();
  await omar.getByRole('button', { name: 'Lifted 1' }).waitFor();
  await omar.getByLabel(/^Temperature/).fill('21.2');
  await omar.getByLabel(/^Cell voltage/).fill('28.1');
  await omar.getByRole('button', { name: 'Record reading' }).click();
  await omar.getByText(/21\.2/).first().waitFor();
  await expectHandy(omar);
  await omar.getByText('lift 1 of 2 now').waitFor();
  await look(omar, 'trial-lift-due');
  // Without a network a lift is kept on the tablet, and stamped when it really happened.
  await omar.context().setOffline(true);
  await omar.getByRole('button', { name: 'Lifted 1' }).click();
  await omar.getByText('1 not sent yet: kept on this tablet').waitFor();
  await omar.context().setOffline(false);
  await omar.getByText('1 not sent yet: kept on this tablet').waitFor({ state: 'detached' });
  await omar.reload();
  await omar.getByRole('button', { name: 'Pause' }).click();
  await omar.getByRole('dialog').getByLabel('Reason').fill('clamp slipped');
  await omar.getByRole('dialog').getByRole('button', { name: 'Pause' }).click();
  await omar.getByRole('button', { name: 'Go on' }).click();
  await omar.getByRole('button', { name: 'Lifted 2' }).click();
  await omar.getByRole('button', { name: 'Out', exact: true }).click();
  await omar.getByRole('region', { name: 'What each was made under' }).waitFor();
  await expectAccessible(omar);
  await look(omar, 'trial-out');
  await omar.getByRole('button', { name: 'Sign as Omar Reed' }).click();
  await omar.getByText('Signed by Omar Reed').waitFor();

  await lena.goto(`${shop.url}/lab/coupons/${series}`);
  await lena.getByText('not looked at yet').first().waitFor();
  expect(await lena.getByText('not looked at yet').count()).toBe(3);
  await look(lena, 'trial-landed');
  await lena.getByRole('link', { name: 'Strip from a photo' }).click();
  await lena.locator('input[type=file]').setInputFiles({
    name: 'strip.png',
    mimeType: 'image/png',
    buffer: Buffer.from(await photo(lena)),
  });
  const canvas = lena.locator('canvas');
  const box = async () => (await canvas.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
  await lena.waitForFunction(() => (document.querySelector('canvas')?.width ?? 0) === 400);
  for (const index of [0, 1, 2, 3]) {
    await canvas.scrollIntoViewIfNeeded();
    const { x, y, width, height } = await box();
    await lena.mouse.click(x + ((index + 0.5) * width) / 4, y + height / 2);
  }
  await lena.getByLabel('Outcome of band 1').selectOption('gold-brown');
  await lena.getByText('Every band is marked').waitFor();
  await expectAccessible(lena);
  await look(lena, 'strip-from-a-photo');
  await lena.getByRole('button', { name: 'Put the bands into the draft' }).click();
  await lena.getByText('photo with a reference card').first().waitFor();
  const table = lena.getByRole('region', { name: 'Coupons', exact: true });
  expect(await table.getByText('photo with a reference card').count()).toBe(3);
  expect(await table.getByText('not looked at yet').count()).toBe(0);
  const kept = lena.getByRole('img', { name: /^Strip with 4 places marked: strip\.png/ });
  await kept.waitFor();
  expect(await kept.evaluate((image) => (image as HTMLImageElement).naturalWidth)).toBe(400);
  await lena.getByText('ref', { exact: true }).waitFor();
  await expectAccessible(lena);
  await look(lena, 'strip-photo-kept');

  const trials = await shop.db.prisma.couponTrial.findMany({
    where: { seriesId: series, runId: { not: null } },
    orderBy: { piece: 'asc' },
  });
  expect(trials.map(({ outcome, grade, voltageV }) => [outcome, grade, voltageV])).toEqual([
    ['gold-brown', 'photo', 28.1],
    ['interference', 'photo', 28.1],
    ['interference', 'photo', 28.1],
  ]);
  const times = trials.map(({ timeS }) => timeS);
  expect(times).toEqual(times.toSorted((one, other) => one - other));
  expect(new Set(times).size).toBe(3);
});
