import { randomBytes } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { FastifyInstance } from 'fastify';
import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';
import { expect, inject } from 'vitest';
import { buildApp } from '../../apps/api/src/app.ts';
import { openDatabase, type Db } from '../../apps/api/src/db/client.ts';
import { keysOf } from '../../apps/api/src/core/hash-chain/index.ts';
import web from '../../apps/api/src/plugins/web.ts';
import type { DemoPerson } from '../../apps/api/src/demo/load.ts';
import { cloneDatabase } from '../support/database.ts';
import { testSecrets } from '../support/secrets.ts';

const root = path.resolve(import.meta.dirname, '../..');

export interface Shop {
  url: string;
  app: FastifyInstance;
  db: Db;
  people: DemoPerson[];
  close(): Promise<void>;
}

/** The service with its built pages, over a database of its own that `fill` puts people and records in. */
export async function openHouse(fill: (db: Db) => Promise<DemoPerson[]>, template?: string): Promise<Shop> {
  const { url: connectionString, serviceUrl, drop } = await cloneDatabase(template);
  const db = openDatabase({ connectionString });
  const serviceDb = openDatabase({ connectionString: serviceUrl });
  const people = await fill(db);
  const app = await buildApp({
    db: serviceDb,
    publicUrl: 'http://localhost',
    version: '0.0.0-test',
    chainKeys: keysOf([randomBytes(32)]),
    secrets: testSecrets,
  });
  await app.register(web, { folder: path.join(root, 'apps/web/build') });
  const address = await app.listen({ port: 0, host: '127.0.0.1' });
  return {
    url: address.replace('127.0.0.1', 'localhost'),
    app,
    db,
    people,
    close: async () => {
      await app.close();
      await serviceDb.close();
      await db.close();
      await drop();
    },
  };
}

/** The invented shop with its three months of work. */
export const openShop = (): Promise<Shop> =>
  openHouse(() => Promise.resolve(inject('shopPeople')), 'template_shop');

export const sizes = { desk: { width: 1440, height: 900 }, tablet: { width: 1024, height: 768 } } as const;

interface Visit {
  size?: keyof typeof sizes;
  dark?: boolean;
}

/** Signs in by the page, as a person does, in a browser context of their own. */
export async function enter({
  browser,
  shop,
  name,
  size = 'desk',
  dark = false,
}: { browser: Browser; shop: Shop; name: string } & Visit): Promise<Page> {
  const context: BrowserContext = await browser.newContext({
    viewport: sizes[size],
    colorScheme: dark ? 'dark' : 'light',
    locale: 'en-GB',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  const password = shop.people.find((person) => person.name === name)?.password ?? '';
  await givingPassword(page, password);
  await page.goto(shop.url);
  await page.getByLabel('Sign-in name').fill(name);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Today' }).waitFor();
  return page;
}

/** Gives the password again whenever a signature asks for it. */
export async function givingPassword(page: Page, password: string): Promise<void> {
  const asking = page.getByRole('dialog').filter({ hasText: 'This is your signature.' });
  await page.addLocatorHandler(asking, async () => {
    await asking.getByLabel('Your password').fill(password);
    await asking.getByRole('button', { name: 'Sign', exact: true }).click();
  });
}

/** The same person on another screen, without signing in again. */
export async function onto(page: Page, { size = 'tablet', dark = true }: Visit): Promise<Page> {
  const context = await page
    .context()
    .browser()
    ?.newContext({
      viewport: sizes[size],
      colorScheme: dark ? 'dark' : 'light',
      locale: 'en-GB',
      storageState: await page.context().storageState(),
    });
  if (!context) throw new Error('the page has no browser');
  const other = await context.newPage();
  other.setDefaultTimeout(30_000);
  return other;
}

/** Signs the step on show; a journey is faster than any bath, and says so when it is asked. */
export async function signStep(page: Page): Promise<void> {
  const head = await page.getByText(/^Step \d+ of/).textContent();
  await page.getByRole('button', { name: /^Sign as/ }).click();
  const question = page.getByRole('dialog');
  const next = page.getByText(/^Step \d+ of|^Step \d+, /).filter({ hasNotText: head ?? '' });
  await Promise.race([question.waitFor(), next.first().waitFor()]);
  if (await question.isVisible()) {
    await question.getByLabel('Why it took less time').fill('a journey through the pages');
    await question.getByRole('button', { name: /^Sign as/ }).click();
  }
}

/** For wet hands: nothing scrolls sideways, whatever is tapped is 44 px high, figures bring up the keys for figures. */
export async function expectHandy(page: Page): Promise<void> {
  const faults = await page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    const main = document.querySelector('main');
    const seen = (element: Element) => element.checkVisibility() && element.getClientRects().length > 0;
    const tapped = [
      ...(main?.querySelectorAll('button, input.box, select, summary, a.button, label:has(input)') ?? []),
    ];
    /** What is drawn, or the wider place that takes the tap. */
    const heightOf = (one: Element) =>
      Math.max(one.getBoundingClientRect().height, parseFloat(getComputedStyle(one, '::after').height) || 0);
    const low = tapped.filter((one) => seen(one) && heightOf(one) < 43.5);
    // A page with keys of its own asks for none.
    const asked = ['decimal', 'numeric', ...(main?.querySelector('.keypad') ? ['none'] : [])];
    const keys = [...(main?.querySelectorAll<HTMLInputElement>('.with-unit input') ?? [])].filter(
      ({ inputMode }) => !asked.includes(inputMode),
    );
    return [
      ...(scrollWidth > clientWidth ? [`scrolls sideways by ${scrollWidth - clientWidth} px`] : []),
      ...low.map((one) => `${one.tagName} “${one.textContent.trim()}” is ${heightOf(one)} px high`),
      ...keys.map(({ name }) => `${name} brings up the letters`),
    ];
  });
  expect(faults, page.url()).toEqual([]);
}

/** Nothing that WCAG 2.2 AA counts as a fault, or that the rules named of it do. */
export async function expectAccessible(page: Page, rules?: string[]): Promise<void> {
  // What is still fading in or out has other colours than those it will have.
  await page.evaluate(() =>
    Promise.allSettled(
      document
        .getAnimations()
        .filter(({ effect }) => effect?.getComputedTiming().iterations !== Infinity)
        .map(({ finished }) => finished),
    ).then(() => undefined),
  );
  // No page has a frame of another origin, so none needs a blank page opened to gather its findings in.
  const axe = new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ['violations'] });
  const { violations } = await (
    rules === undefined
      ? axe.withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
      : axe.withRules(rules)
  ).analyze();
  const told = violations.map(
    ({ id, nodes }) =>
      `${id}: ${nodes.map(({ target, failureSummary }) => `${target.join(' ')} ${failureSummary ?? ''}`).join(' | ')}`,
  );
  expect(told, page.url()).toEqual([]);
}

/** Keeps a picture of a page, or of a part of it, for the README when asked to: `HUELOT_TOUR=1`. */
export async function picture(shown: Pick<Page | Locator, 'screenshot'>, name: string): Promise<void> {
  if (process.env['HUELOT_TOUR'] !== '1') return;
  const folder = path.join(root, 'docs/tour');
  mkdirSync(folder, { recursive: true });
  await shown.screenshot({ path: path.join(folder, `${name}.png`), style: '.toasts { display: none }' });
}

/** Keeps a picture of a whole page in the folder that `HUELOT_PICTURES` names, to be looked at. */
export async function look(page: Page, name: string): Promise<void> {
  const folder = process.env['HUELOT_PICTURES'];
  if (folder) await page.screenshot({ path: path.join(folder, `${name}.png`), fullPage: true });
}
