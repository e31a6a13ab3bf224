import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const pages = [
  '/today',
  '/customers',
  '/customers/1',
  '/customers/new',
  '/parts',
  '/parts/1',
  '/parts/new',
  '/materials',
  '/materials/1',
  '/quotations',
  '/quotations/1',
  '/quotations/new?customer=1',
  '/orders',
  '/orders/1',
  '/orders/new?customer=1',
  '/lots',
  '/lots/1',
  '/lots/1/trace',
  '/travelers/1',
  '/tankside',
  '/trace',
  '/recipes',
  '/recipes/1',
  '/tanks',
  '/tanks/1',
  '/lab',
  '/lab?fills=all',
  '/lab/fill',
  '/lab/baths/6',
  '/lab/baths/4',
  '/lab/baths/6/watch',
  '/lab/baths/6/analyse',
  '/lab/baths/6/add',
  '/lab/baths/6/add?kind=water',
  '/lab/baths/11',
  '/lab/baths/11/add',
  '/lab/analyses',
  '/lab/analyses/1',
  '/lab/analyses/1/correct',
  '/lab/additions',
  '/lab/additions/1',
  '/lab/additions/1/correct',
  '/lab/baths/6/chart',
  '/lab/baths/6/chart?component=K2CO3',
  '/lab/chemicals',
  '/lab/chemicals/new',
  '/lab/chemicals/1',
  '/lab/chemicals/1/edit',
  '/lab/chemicals/1/receive',
  '/lab/chemicals/1/lots/1',
  '/lab/chemicals/1/lots/1/edit',
  '/lab/methods',
  '/lab/methods/new',
  '/lab/methods/1',
  '/lab/instruments',
  '/lab/coupons',
  '/lab/coupons/new',
  '/lab/coupons/1',
  '/lab/coupons/4',
  '/lab/coupons/4/edit',
  '/lab/import',
  '/lab/import?bath=6',
  '/rates',
  '/people',
  '/setup',
  '/audit',
  '/account',
];

test.each([
  { size: 'desk', dark: false },
  { size: 'tablet', dark: true },
] as const)(
  'every page shows something, says nothing wrong and passes axe: %o',
  async (visit) => {
    const page = await enter({ browser, shop, name: 'olive', ...visit });
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
    page.on('console', (message) => {
      if (message.type() === 'error') faults.push(`${page.url()}: ${message.text()}`);
    });
    for (const path of pages) {
      await page.goto(`${shop.url}${path}`);
      await page.getByRole('main').waitFor();
      await page.waitForLoadState('networkidle');
      const width = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(width, `${path} scrolls sideways`).toBeLessThanOrEqual(0);
      await expectAccessible(page);
    }
    expect(faults).toEqual([]);
  },
  900_000,
);
