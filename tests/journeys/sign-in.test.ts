import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

test('whoever is not signed in is shown the sign-in, and nothing is asked that must be refused', async () => {
  const page = await browser.newPage();
  const refused: string[] = [];
  page.on('response', (reply) => {
    if (reply.status() >= 400) refused.push(`${reply.status()} ${reply.url()}`);
  });
  const name = page.getByLabel('Sign-in name');
  await page.goto(shop.url);
  await name.waitFor();
  await page.goto(`${shop.url}/lab/coupons`);
  await name.fill('lena');
  await page
    .getByLabel('Password', { exact: true })
    .fill(shop.people.find((person) => person.name === 'lena')?.password ?? '');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Coupons', level: 1 }).waitFor();
  await page.getByRole('button', { name: 'My account and settings' }).click();
  await page.getByRole('menuitem', { name: 'Sign out' }).click();
  await name.waitFor();
  expect(refused).toEqual([]);
  await page.close();
});
