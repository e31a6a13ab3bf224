import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Db } from '../../apps/api/src/db/client.ts';
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
  '/lots/parked',
  '/lots/1/trace',
  '/travelers/1',
  '/tankside',
  '/trace',
  '/recipes',
  '/recipes/1',
  '/recipes/1/compare',
  '/recipes/1/edit',
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
  '/lab/additions/1/do',
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
  '/lab/methods/1/compare',
  '/lab/methods/1/edit',
  '/lab/instruments',
  '/lab/coupons',
  '/lab/coupons/new',
  '/lab/coupons/1',
  '/lab/coupons/4',
  '/lab/coupons/4/edit',
  '/lab/import',
  '/lab/import?bath=6',
  '/rates',
  '/rates/1',
  '/rates/exchange',
  '/people',
  '/setup',
  '/setup/getting-started',
  '/setup/getting-started/tanks',
  '/setup/getting-started/recipes',
  '/customers/import',
  '/parts/import',
  '/materials/import',
  '/lab/chemicals/import',
  '/audit',
  '/audit/chain',
  '/account',
  '/design',
  '/design/fields',
  '/design/lists',
  '/design/pictures',
];

const folder = path.resolve(import.meta.dirname, '../../apps/web/src/routes');
/** Every page there is, by the place of its file: `/lab/baths/[id]/chart`. */
const routes = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((file) => path.basename(file) === '+page.svelte')
  .map((file) => `/${path.dirname(file).replaceAll(/\([^)]+\)\/?/g, '')}`);
const signedOut = ['/sign-in', '/invitation/[token]', '/first-admin'];

/** The route that shows an address. `/lab/methods/new` has a page of its own and is no `/lab/methods/[id]`. */
function routeOf(address: string): string | undefined {
  const [place = ''] = address.split(/[?#]/);
  const shows = (route: string) => new RegExp(`^${route.replaceAll(/\[[^\]]+\]/g, '[^/]+')}$`).test(place);
  return routes.find((route) => route === place) ?? routes.find(shows);
}

/** Pages that only some records have: what is a draft, what waits for its release, what a code on paper leads to. */
async function pagesOfSome({ prisma }: Db): Promise<string[]> {
  const unsent = await prisma.quotationRevision.findFirstOrThrow({ where: { status: 'draft' } });
  const draft = await prisma.recipeRevision.findFirstOrThrow({ where: { status: 'draft' } });
  const line = await prisma.orderLine.findFirstOrThrow({ where: { lots: { none: {} } } });
  const traveler = await prisma.traveler.findFirstOrThrow();
  return [
    `/quotations/${unsent.quotationId}/edit`,
    `/recipes/${draft.recipeId}/draft/${draft.id}`,
    `/orders/${line.orderId}/release/${line.id}`,
    `/t/${traveler.number}/${traveler.revision}`,
  ];
}

/** The addresses given, then one of every other route that a page met so far leads to. */
function* addresses(items: string[], linked: ReadonlySet<string>): Generator<string, string[]> {
  const seen = new Set(signedOut);
  for (const address of items) {
    seen.add(routeOf(address) ?? '');
    yield address;
  }
  for (;;) {
    const next = [...linked].find((address) => !seen.has(routeOf(address) ?? '/sign-in'));
    if (next === undefined) return routes.filter((route) => !seen.has(route));
    seen.add(routeOf(next) ?? '');
    yield next;
  }
}

async function look(page: Page, address: string, widths: readonly number[]): Promise<void> {
  await page.goto(`${shop.url}${address}`);
  await page.getByRole('main').waitFor();
  await page.waitForLoadState('networkidle');
  await expectNoSidewaysScroll(page, address, widths);
  await expectAccessible(page);
}

async function expectNoSidewaysScroll(page: Page, address: string, widths: readonly number[]): Promise<void> {
  const own = page.viewportSize() ?? { width: 1440, height: 900 };
  const beyondPx = () => document.documentElement.scrollWidth - document.documentElement.clientWidth;
  for (const width of widths) {
    await page.setViewportSize({ ...own, width });
    // Charts are drawn again a moment after their frame has another width. A busy machine may not look within that moment:
    // what counts is how far the page goes after it.
    await page
      .waitForFunction(
        () => document.documentElement.scrollWidth <= document.documentElement.clientWidth,
        undefined,
        { timeout: 2000 },
      )
      .catch(() => undefined);
    const px = await page.evaluate(beyondPx);
    expect(px, `${address} scrolls sideways at ${width} px`).toBeLessThanOrEqual(0);
  }
  await page.setViewportSize(own);
}

test.concurrent.each([
  // From the narrowest screen that a page must fit (WCAG 2.2, 1.4.10) over phones and tablets to the desk.
  { size: 'desk', dark: false, widths: [320, 390, 768, 1024, 1440] },
  { size: 'tablet', dark: true, widths: [1024] },
] as const)(
  'every page shows something, says nothing wrong and passes axe: %o',
  async ({ widths, ...visit }) => {
    const page = await enter({ browser, shop, name: 'olive', ...visit });
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
    page.on('console', (message) => {
      if (message.type() === 'error') faults.push(`${page.url()}: ${message.text()}`);
    });
    const linked = new Set<string>();
    const walk = addresses([...pages, ...(await pagesOfSome(shop.db))], linked);
    let step = walk.next();
    for (; step.done !== true; step = walk.next()) {
      await look(page, step.value, widths);
      for (const href of await page
        .locator('a[href^="/"]')
        .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? '')))
        linked.add(href);
    }
    expect(step.value, 'no page leads there').toEqual([]);
    expect(faults).toEqual([]);
  },
  900_000,
);
