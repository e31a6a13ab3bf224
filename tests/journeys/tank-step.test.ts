import type { Socket } from 'node:net';
import type { Traveler, TravelerStep } from '@huelot/contracts';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, onto, look, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** A lot whose next step records a temperature and takes time; each test takes one of its own. */
async function freshLot(taken: number) {
  const lots = await shop.db.prisma.lot.findMany({
    where: { status: 'released', held: false },
    orderBy: { id: 'asc' },
  });
  const lot = lots[taken];
  if (lot === undefined) throw new Error('the shop has too few released lots');
  return lot;
}
const temperature = (page: Page) => page.getByLabel(/^Temperature \(/);

/** The step with the most set points that is not signed yet, and its lot. */
async function fullestStep(page: Page) {
  const lots = await shop.db.prisma.lot.findMany({ where: { status: { in: ['released', 'running'] } } });
  const travelers = await Promise.all(
    lots.map(async ({ id }) => {
      const reply = await page.request.get(`${shop.url}/api/tankside/lots/${id}`);
      return (await reply.json()) as Traveler;
    }),
  );
  const pointsOf = ({ settings, load }: TravelerStep) => settings.length + (load === null ? 0 : 1);
  const [fullest] = travelers
    .flatMap(({ lot, steps }) => steps.map((step) => ({ lotId: lot.id, step, points: pointsOf(step) })))
    .filter(({ step }) => step.signOff === null)
    .toSorted((one, other) => other.points - one.points);
  if (fullest === undefined) throw new Error('every step is signed');
  return fullest;
}

/** What does not fit the screen, and what gloves would miss. A phone shows its own keys. */
const faultsOnScreen = (page: Page) =>
  page.evaluate(() => {
    const seen = (one: Element) => one.checkVisibility() && one.getClientRects().length > 0;
    const low = [...document.querySelectorAll('button, input.box, select, summary, a.button')].filter(
      (one) => seen(one) && one.getBoundingClientRect().height < 55.5,
    );
    const wanted = [
      ...document.querySelectorAll(
        'dl .big, .clock, .clock button, .keypad button, [data-reading], .bar button',
      ),
    ].filter(seen);
    // The bar of signatures stays at the bottom of the screen, over what would lie under it.
    const floorPx = document.querySelector('.step > .bar')?.getBoundingClientRect().top ?? innerHeight;
    const hidden = wanted.filter((one) => {
      const { top, bottom, left, right } = one.getBoundingClientRect();
      const lowest = one.closest('.bar') ? innerHeight : floorPx;
      return top < 0 || left < 0 || bottom > lowest + 0.5 || right > innerWidth + 0.5;
    });
    return {
      low: low.map((one) => `${one.tagName} ${one.textContent.trim()}`),
      hidden: hidden.map((one) => `${one.className} ${one.textContent.trim()}`),
      wanted: wanted.length > 10,
    };
  });

test('set points, clock, limits and keys of a step lay three screens apart', async () => {
  const lot = await freshLot(0);
  const page = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  await page.goto(`${shop.url}/tankside/${lot.id}`);
  await page.getByText(/^Step 1 of/).waitFor();
  await expectAccessible(page);
  await look(page, 'tank-step-light');
  expect(await faultsOnScreen(page)).toEqual({ low: [], hidden: [], wanted: true });
  const dark = await onto(page, { size: 'tablet', dark: true });
  await dark.goto(page.url());
  await dark.getByText(/^Step 1 of/).waitFor();
  await expectAccessible(dark);
  await look(dark, 'tank-step-dark');
  await dark.setViewportSize({ width: 768, height: 1024 });
  await look(dark, 'tank-step-upright');
  expect((await faultsOnScreen(dark)).low).toEqual([]);

  // The keys write, step from the set point, and take it as set.
  await temperature(page).click();
  for (const key of ['5', '8']) await page.getByRole('button', { name: key, exact: true }).click();
  expect(await temperature(page).inputValue()).toBe('58');
  await page.getByRole('button', { name: /^As set/ }).click();
  const set = Number(await temperature(page).inputValue());
  await page.getByRole('button', { name: 'A little more' }).click();
  expect(Number(await temperature(page).inputValue())).toBeGreaterThan(set);
  await page.getByRole('button', { name: /more$/ }).first().click();
  await page.getByRole('dialog').getByText('Before you start').waitFor();
  await look(page, 'tank-cautions');
  await page.context().close();
  await dark.context().close();
});

test('three set points pushed the In button under the bar of signatures, and a phone scrolled', async () => {
  const page = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  const { lotId, step, points } = await fullestStep(page);
  expect(points).toBeGreaterThanOrEqual(3);
  await page.goto(`${shop.url}/tankside/${lotId}`);
  await page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: step.title })
    .first()
    .click();
  await page.getByRole('heading', { name: step.title }).waitFor();
  expect(await page.locator('.clock button').count()).toBeGreaterThan(0);
  await look(page, 'tank-step-three-set-points');
  expect(await faultsOnScreen(page)).toEqual({ low: [], hidden: [], wanted: true });
  await page.setViewportSize({ width: 390, height: 844 });
  await look(page, 'tank-step-phone');
  expect(await faultsOnScreen(page)).toMatchObject({ low: [], hidden: [] });
  await expectAccessible(page);
  await page.context().close();
});

test('half-typed readings were lost with a reload or a look at another step; a colleague sees them', async () => {
  const lot = await freshLot(1);
  const [omar, ines] = await Promise.all(
    ['omar', 'ines'].map((name) => enter({ browser, shop, name, size: 'tablet' })),
  );
  if (omar === undefined || ines === undefined) throw new Error('two people are needed');
  await omar.goto(`${shop.url}/tankside/${lot.id}`);
  await temperature(omar).fill('57.5');
  await omar.getByRole('navigation', { name: 'Steps' }).getByRole('button').nth(1).click();
  await omar
    .getByText(/comes first: it is not signed yet/)
    .first()
    .waitFor();
  await omar.getByRole('navigation', { name: 'Steps' }).getByRole('button').nth(0).click();
  expect(await temperature(omar).inputValue()).toBe('57.5');
  await omar.reload();
  await omar.getByText(/^Step 1 of/).waitFor();
  expect(await temperature(omar).inputValue()).toBe('57.5');

  await omar.getByRole('button', { name: 'In', exact: true }).click();
  await omar.getByRole('button', { name: 'Out', exact: true }).waitFor();
  await ines.goto(`${shop.url}/tankside/${lot.id}`);
  await ines.getByText(/is at this step too.*57\.5/).waitFor();
  await ines.getByRole('button', { name: 'Out', exact: true }).click();
  await omar.getByText(/^taken/).waitFor();
  await omar.getByRole('button', { name: 'Reset' }).click();
  await omar.getByRole('dialog').getByText('Reset the clock?').waitFor();
  await omar.getByRole('button', { name: 'Cancel' }).click();
  await omar.context().close();
  await ines.context().close();
});

test('two people, one tablet, no network, killed, and a hold meanwhile: nothing is lost or misnamed', async () => {
  const { db } = shop;
  const [held, free] = [await freshLot(2), await freshLot(3)];
  const omar = await enter({ browser, shop, name: 'omar', size: 'tablet' });
  const context = omar.context();
  await omar.goto(`${shop.url}/tankside`);
  await omar.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  for (const lot of [free, held]) {
    await omar.goto(`${shop.url}/tankside/${lot.id}`);
    await omar.getByText(/^Step 1 of/).waitFor();
  }
  await omar.reload();
  await omar.getByText(/^Step 1 of/).waitFor();
  await context.setOffline(true);
  // A busy browser lets a write through all the same while its service worker starts: the line is cut at the service, too.
  const cutOff = (socket: Socket) => socket.destroy();
  shop.app.server.on('connection', cutOff).closeAllConnections();
  const signHere = async (page: Page) => {
    await temperature(page).fill('58');
    await page.getByRole('button', { name: /^Sign as/ }).click();
    await page.getByText(/^Step 2 of/).waitFor();
  };
  await signHere(omar);
  await omar.goto(`${shop.url}/tankside/${free.id}`);
  await signHere(omar);
  await omar.getByText('2 waiting to be sent').waitFor();
  await look(omar, 'tank-offline');

  // The page is killed; another one opens without network, and remembers.
  await omar.close();
  const again = await context.newPage();
  await again.goto(`${shop.url}/tankside/${held.id}`);
  await again.getByText('2 waiting to be sent').waitFor();
  await again.getByText(/^Step 2 of/).waitFor();
  const unknown = await freshLot(0);
  await again.goto(`${shop.url}/tankside/999999`);
  await again.getByText('This lot is not on this tablet').waitFor();
  expect(unknown.id).not.toBe(held.id);

  // Quality holds one lot; Ines takes over the tablet.
  const quality = await db.prisma.person.findFirstOrThrow({ where: { roles: { has: 'quality' } } });
  await db.prisma.lot.update({ where: { id: held.id }, data: { held: true, version: { increment: 1 } } });
  await db.prisma.lotHold.create({
    data: { lotId: held.id, reason: 'shade differs', placedById: quality.id },
  });
  const cookies = await context.cookies();
  await context.clearCookies();
  shop.app.server.off('connection', cutOff);
  await context.setOffline(false);
  const ines = await enter({ browser, shop, name: 'ines', size: 'tablet' });
  await context.addCookies(await ines.context().cookies());
  await again.goto(`${shop.url}/tankside/${free.id}`);
  await again.getByText('waits for Omar').first().waitFor();
  await again.waitForTimeout(9000);
  expect(await db.prisma.stepSignOff.count({ where: { lotId: { in: [held.id, free.id] } } })).toBe(0);

  // Omar is back: one is signed as his, the other is with quality, with what he wrote down.
  await context.clearCookies();
  await context.addCookies(cookies);
  await again.goto(`${shop.url}/tankside/${free.id}`);
  await again.getByText(/could no longer be signed when the network came back/).waitFor();
  await again.getByText(/waiting to be sent/).waitFor({ state: 'hidden' });
  await look(again, 'tank-parked');
  const omarId = (await db.prisma.person.findFirstOrThrow({ where: { name: 'omar' } })).id;
  const signed = await db.prisma.stepSignOff.findMany({ where: { lotId: { in: [held.id, free.id] } } });
  expect(signed.map(({ lotId, personId }) => [lotId, personId])).toEqual([[free.id, omarId]]);
  const parked = await db.prisma.parkedSignOff.findMany({ where: { lotId: held.id } });
  expect(parked).toMatchObject([{ personId: omarId, body: { readings: [{ value: 58 }] } }]);
  await again.getByText(/^Step 2 of/).waitFor();
  await ines.context().close();
  await context.close();

  const desk = await enter({ browser, shop, name: 'quentin' });
  await desk
    .getByRole('link', { name: new RegExp(held.number) })
    .first()
    .waitFor();
  await desk.goto(`${shop.url}/lots/parked`);
  await expectAccessible(desk);
  await look(desk, 'parked');
  await desk.getByRole('button', { name: 'It counts as done' }).click();
  await desk.getByRole('dialog').getByLabel('Why').fill('done before the hold');
  await desk.getByRole('dialog').getByRole('button', { name: 'It counts as done' }).click();
  await desk.getByText('No sign-off waits for a decision').waitFor();
  expect(await db.prisma.stepSignOff.findFirst({ where: { lotId: held.id } })).toMatchObject({
    personId: omarId,
  });
  await desk.context().close();
});
