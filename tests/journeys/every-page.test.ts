import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Db } from '../../apps/api/src/db/client.ts';
import { launchBrowser } from '../support/browser.ts';
import { isNightly } from '../support/nightly.ts';
import { enter, expectAccessible, openShop, sizes, type Shop } from './shop-in-a-browser.ts';

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
  '/parts/1/inspection-plan',
  '/parts/1/inspection-plan/edit',
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
  '/lots/1/inspection',
  '/lots/parked',
  '/deliveries',
  '/deliveries/1',
  '/invoices',
  '/invoices/1',
  '/invoices/bank',
  '/invoices/new?customer=1',
  '/nonconformances',
  '/nonconformances/1',
  '/nonconformances/1/compare',
  '/nonconformances/new?lot=1',
  '/assessments',
  '/assessments/1',
  '/assessments/new',
  '/certificates',
  '/certificates/1',
  '/certificates/new?shipment=1',
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
  '/people/competence',
  '/lab/instruments',
  '/lab/instruments/3',
  '/lab/instruments/3/calibrate',
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
const signedOut = ['/sign-in', '/invitation/[token]', '/first-admin', '/check/[code]'];

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
  const coupons = await prisma.couponSeries.findFirstOrThrow({ where: { status: 'draft' } });
  const { id: authorId } = await prisma.person.findFirstOrThrow();
  const unapproved = { revision: 1, name: 'Dusk blue', grade: 'word', authorId, writerIds: [authorId] };
  const standard = await prisma.colourStandard.create({
    data: { code: 'HALF-WRITTEN', revisions: { create: unapproved } },
  });
  const calibration = await prisma.calibration.findFirstOrThrow({ where: { status: 'draft' } });
  const { kind, medium, place, limits } = await prisma.exposureTest.findFirstOrThrow();
  const planned = await prisma.exposureTest.create({
    data: {
      ...{ number: 'ET-PLANNED', name: 'Brown of next week', kind, medium, place, limits: limits ?? {} },
      ...{ lookEveryDays: 1, plannedHours: 48, responsibleId: authorId, createdById: authorId },
    },
  });
  const drafted = await prisma.invoice.findFirstOrThrow({ where: { number: null } });
  const undelivered = await prisma.deliveryDue.findFirstOrThrow();
  const letter = await prisma.assessmentLetter.findFirstOrThrow();
  return [
    `/assessments/${letter.assessmentId}/letter?customer=${letter.customerId}`,
    `/deliveries/new?shipment=${undelivered.shipmentId}`,
    `/invoices/${drafted.id}/edit`,
    `/calibrations/${calibration.id}/edit`,
    `/colour-bench/exposure/${planned.id}/edit`,
    `/quotations/${unsent.quotationId}/edit`,
    `/recipes/${draft.recipeId}/draft/${draft.id}`,
    `/orders/${line.orderId}/release/${line.id}`,
    `/t/${traveler.number}/${traveler.revision}`,
    `/colour-standards/${standard.id}/edit`,
    `/lab/coupons/${coupons.id}/strip`,
    `/lab/trials/new?series=${coupons.id}`,
  ];
}

/** One address of every route that the links lead to and nobody has been at. */
function unseenOf(links: ReadonlySet<string>, visited: readonly string[]): string[] {
  const seen = new Set<string | undefined>([undefined, ...signedOut, ...visited.map(routeOf)]);
  return [...links].filter((address) => {
    const route = routeOf(address);
    return !seen.has(route) && seen.add(route);
  });
}

/** From the narrowest screen that a page must fit (WCAG 2.2, 1.4.10) over phones and tablets to the desk. */
const widths = isNightly ? [320, 390, 768, 1024, 1440] : [320, 1024];

/** Looks at a page at the desk in light; at night again on a tablet in dark for what size and colour can change. */
async function look(page: Page, address: string): Promise<void> {
  await page.goto(`${shop.url}${address}`);
  await page.getByRole('main').waitFor();
  await page.waitForLoadState('networkidle');
  await expectNoSidewaysScroll(page, address);
  await expectAccessible(page);
  if (!isNightly) return;
  await page.setViewportSize(sizes.tablet);
  await page.emulateMedia({ colorScheme: 'dark' });
  await expectAccessible(page, ['color-contrast', 'target-size', 'scrollable-region-focusable']);
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(sizes.desk);
}

async function expectNoSidewaysScroll(page: Page, address: string): Promise<void> {
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
    if (px > 0) await page.setViewportSize(own);
    expect(px, `${address} scrolls sideways at ${width} px`).toBeLessThanOrEqual(0);
  }
  await page.setViewportSize(own);
}

test(
  'every page shows something, says nothing wrong and passes axe',
  async () => {
    const page = await enter({ browser, shop, name: 'olive' });
    const faults: string[] = [];
    const linked = new Set<string>();
    // A fault of one page hides none of another: all are told at the end.
    const visit = async (tab: Page, address: string): Promise<void> => {
      await look(tab, address).catch((error: unknown) => faults.push(`${address}: ${String(error)}`));
      const links = tab.locator('a[href^="/"]');
      for (const href of await links.evaluateAll((all) => all.map((link) => link.getAttribute('href') ?? '')))
        linked.add(href);
    };
    const listen = (tab: Page) => {
      tab.on('pageerror', (error) => faults.push(`${tab.url()}: ${error.message}`));
      tab.on('console', (message) => {
        if (message.type() === 'error') faults.push(`${tab.url()}: ${message.text()}`);
      });
    };

    // Tabs beside each other, so that some are looked at while another waits for its page.
    const tabs = [page];
    while (tabs.length < 4) tabs.push(await page.context().newPage());
    tabs.forEach(listen);
    const visited: string[] = [];
    for (
      let next = [...pages, ...(await pagesOfSome(shop.db))];
      next.length > 0;
      next = unseenOf(linked, visited)
    ) {
      visited.push(...next);
      const waiting = next.values();
      await Promise.all(
        tabs.map(async (tab) => {
          for (const address of waiting) await visit(tab, address);
        }),
      );
    }
    const seen = new Set([...signedOut, ...visited.map(routeOf)]);
    expect(
      routes.filter((route) => !seen.has(route)),
      'no page leads there',
    ).toEqual([]);
    expect(faults).toEqual([]);
  },
  isNightly ? 1_800_000 : 900_000,
);
