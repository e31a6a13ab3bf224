import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { losingProxy } from '../support/losing-proxy.ts';
import { enter, openShop, type Shop, signStep, sizes } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;

beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** What lies under the message that a step was signed, and what moved when it came. */
async function signAndLook(page: Page) {
  const [message, title] = [page.getByText(/^Step \d+ signed$/), page.getByRole('heading', { level: 1 })];
  const before = await title.boundingBox();
  await page.getByLabel(/^Temperature \(/).fill('58');
  await page.getByRole('button', { name: /^Sign as/ }).click();
  await message.waitFor();
  const after = await title.boundingBox();
  const covered = await message.evaluate((element) => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    const others = [...document.querySelectorAll('h1, h2, p, button, a, input, li')].filter(
      (one) => !one.contains(element) && !element.contains(one) && one.checkVisibility(),
    );
    return others.flatMap((one) => {
      const box = one.getBoundingClientRect();
      const apart = box.right <= left || box.left >= right || box.bottom <= top || box.top >= bottom;
      return apart ? [] : [one.textContent];
    });
  });
  return { covered, movedPx: (after?.y ?? NaN) - (before?.y ?? NaN) };
}

test('the message that a step was signed covers nothing and moves nothing', async () => {
  const lots = await shop.db.prisma.lot.findMany({ where: { status: 'released', held: false }, take: 2 });
  for (const [at, size] of (['tablet', 'desk'] as const).entries()) {
    const page = await enter({ browser, shop, name: 'omar', size });
    await page.goto(`${shop.url}/tankside/${lots[at]?.id}`);
    expect(await signAndLook(page), `${sizes[size].width} px`).toEqual({ covered: [], movedPx: 0 });
    await page.context().close();
  }
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

test('a tablet over plain HTTP showed a blank page: it says so, shows the step and signs it', async () => {
  const { stepSignOff } = shop.db.prisma;
  const { lotId } = await stepSignOff.findFirstOrThrow({ orderBy: { id: 'desc' } });
  const signed = () => stepSignOff.count({ where: { lotId } });
  const before = await signed();
  const named = await launchBrowser({ hosts: 'MAP shop.test 127.0.0.1' });
  try {
    const overHttp = { ...shop, url: shop.url.replace('localhost', 'shop.test') };
    const page = await enter({ browser: named, shop: overHttp, name: 'omar', size: 'tablet' });
    expect(await page.evaluate(() => window.isSecureContext)).toBe(false);
    await page.goto(`${overHttp.url}/tankside`);
    await page
      .getByText(/plain HTTP|not encrypted/i)
      .first()
      .waitFor();
    await page.goto(`${overHttp.url}/tankside/${lotId}`);
    await signStep(page);
    await page.getByText(/^Step \d+ signed$/).waitFor();
    expect(await signed()).toBe(before + 1);
  } finally {
    await named.close();
  }
});

test('the answer to a signature was lost on its way: it is sent again, and stands once under its name', async () => {
  const { stepSignOff, person } = shop.db.prisma;
  const { lotId } = await stepSignOff.findFirstOrThrow({ orderBy: { id: 'desc' } });
  const signed = () => stepSignOff.findMany({ where: { lotId }, orderBy: { id: 'asc' } });
  const before = await signed();
  let losing = true;
  const proxy = await losingProxy({
    target: shop.url,
    loses: ({ method, url }) => losing && method === 'POST' && /\/steps\/\d+\/sign-off$/.test(url ?? ''),
  });
  try {
    const page = await enter({ browser, shop: { ...shop, url: proxy.url }, name: 'ines', size: 'tablet' });
    await page.goto(`${proxy.url}/tankside/${lotId}`);
    await signStep(page);
    await page.getByText('1 waiting to be sent').waitFor();
    await expect.poll(() => proxy.lost, { timeout: 20_000 }).toContain(201);
    expect(await signed()).toHaveLength(before.length + 1);
    losing = false;
    await page.getByText('1 waiting to be sent').waitFor({ state: 'hidden' });
    const after = await signed();
    expect(after).toHaveLength(before.length + 1);
    const ines = await person.findFirstOrThrow({ where: { name: 'ines' } });
    expect(after.at(-1)?.personId).toBe(ines.id);
    await page.context().close();
  } finally {
    await proxy.close();
  }
});
