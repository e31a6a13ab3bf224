import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('a sign-off made while the network is down is kept and sent once when it is back', async () => {
  const { db } = shop;
  const lot = await db.prisma.lot.findFirstOrThrow({ where: { status: 'released', held: false } });
  const page = await enter({ browser, shop, name: 'ines', size: 'tablet' });
  await page.goto(`${shop.url}/tankside/${lot.id}`);
  await page.getByText(/Step 1 of/).waitFor();
  await page.context().setOffline(true);
  await page.getByLabel(/^Temperature \(/).fill('58');
  await page.getByRole('button', { name: /^Sign as/ }).click();
  await page.getByText('1 waiting to be sent').waitFor();
  await page.getByText(/Step 2 of/).waitFor();
  expect(await db.prisma.stepSignOff.count({ where: { lotId: lot.id } })).toBe(0);
  await page.context().setOffline(false);
  await page.getByText('1 waiting to be sent').waitFor({ state: 'hidden' });
  expect(await db.prisma.stepSignOff.count({ where: { lotId: lot.id } })).toBe(1);
});

test('two operators on one step: the second is told who signed it', async () => {
  const { db } = shop;
  const lot = await db.prisma.lot.findFirstOrThrow({ where: { status: 'released', held: false } });
  const pages = await Promise.all(
    ['omar', 'ines'].map((name) => enter({ browser, shop, name, size: 'tablet' })),
  );
  for (const page of pages) {
    await page.goto(`${shop.url}/tankside/${lot.id}`);
    await page.getByLabel(/^Temperature \(/).fill('58');
  }
  await Promise.all(pages.map((page) => page.getByRole('button', { name: /^Sign as/ }).click()));
  await Promise.race(pages.map((page) => page.getByText(/was signed already by/).waitFor()));
  expect(await db.prisma.stepSignOff.count({ where: { lotId: lot.id } })).toBe(1);
});
