import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { withoutTriggers } from '../../apps/api/src/demo/backdate.ts';
import { sql } from '../../apps/api/src/db/client.ts';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
let lot: { id: number; number: string; partId: number; recipeRevisionId: number };
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
  const { db } = shop;
  lot = await db.prisma.lot.findFirstOrThrow({ where: { status: 'finished', held: false } });
  const { id: standardId } = await db.prisma.colourStandard.create({ data: { code: 'JOURNEY' } });
  await db.prisma.colourStandardRevision.create({
    data: {
      ...{ standardId, revision: 1, status: 'approved', name: 'Peacock blue', grade: 'measured' },
      target: { L: 40, a: 8, b: -30 },
      conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
      tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 },
      ...{ instrument: 'SP-1', takenOverFrom: 'a drawing', approvedAt: new Date() },
    },
  });
  // Nobody has read this lot yet, and its part asks for a colour of this journey's own.
  await withoutTriggers(db, async (execute) => {
    await execute(sql`delete from "colour_reading" where "lotId" = ${lot.id}`);
    await execute(sql`update "part" set "colourStandardId" = ${standardId} where "id" = ${lot.partId}`);
    // A lot is held to what it was released with.
    await execute(sql`
      update "lot" set "snapshot" = jsonb_set("snapshot", '{part,agreedColour}', agreed_colour(${standardId}::int)) where "id" = ${lot.id}`);
  });
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const dialog = (page: Page) => page.getByRole('dialog');
async function read(page: Page, figures: { L: number; a: number; b: number }) {
  await page.getByRole('button', { name: 'Add reading' }).click();
  await dialog(page).getByLabel('Place').fill(`blade at ${figures.L}`);
  for (const axis of ['L', 'a', 'b'] as const)
    await dialog(page).getByLabel(`${axis}*`, { exact: true }).fill(String(figures[axis]));
  await dialog(page).getByLabel('Instrument').selectOption({ label: 'SP-1 Spectrophotometer' });
}
const record = (page: Page) =>
  dialog(page).getByRole('button', { name: 'Record reading', exact: true }).click();

test('a lot went out unread, and one that was off was noticed by nobody', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin.goto(`${shop.url}/lots/${lot.id}`);
  await quentin
    .getByText(/asks for the colour JOURNEY/)
    .first()
    .waitFor();
  await quentin.getByRole('button', { name: 'Final check' }).click();
  await dialog(quentin)
    .getByText(/asks for the colour JOURNEY/)
    .waitFor();
  await dialog(quentin).getByRole('button', { name: 'Sign the check' }).click();
  await dialog(quentin).getByText('must be 0 until the colour is read').waitFor();
  await dialog(quentin).getByRole('button', { name: 'Cancel' }).click();

  const omar = await enter({ browser, shop, name: 'omar', size: 'tablet', dark: true });
  await omar.goto(`${shop.url}/tankside/${lot.id}`);
  await read(omar, { L: 41, a: 8, b: -30 });
  await dialog(omar).getByText('as agreed').waitFor();
  await expectAccessible(omar);
  await look(omar, 'colour-reading-at-the-tank');
  await record(omar);
  await omar
    .getByRole('row', { name: /blade at 41/ })
    .getByText('as agreed')
    .waitFor();
  await read(omar, { L: 4, a: 8, b: -30 });
  await dialog(omar).getByLabel('It is this lot, and the decimal sign is right').waitFor();
  await dialog(omar).getByLabel('L*', { exact: true }).fill('46.1');
  await record(omar);
  await omar
    .getByRole('row', { name: /blade at 4/ })
    .getByText('beyond the limit')
    .first()
    .waitFor();
  await omar
    .getByText(/is on hold: no step is signed/)
    .first()
    .waitFor();
  await expectAccessible(omar);
  await look(omar, 'colour-held-at-the-tank');

  await quentin.reload();
  await quentin
    .getByText(/dE 5\.\d from JOURNEY revision 1, limit 3/)
    .first()
    .waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'colour-of-a-lot');
  await quentin.getByRole('button', { name: 'Release from hold' }).click();
  await dialog(quentin).getByLabel('Why').fill('customer agreed by letter');
  await dialog(quentin).getByRole('button', { name: 'Release from hold' }).click();

  await quentin.getByRole('button', { name: 'Import readings from a file' }).click();
  await dialog(quentin)
    .locator('input[type=file]')
    .setInputFiles({
      name: 'reads.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('b;L;a;place;illuminant\n-30,0;40,4;8,1;back;D65\n-30;4O;8;side;D65\n'),
    });
  await dialog(quentin)
    .getByText(/Line 3/)
    .waitFor();
  await dialog(quentin).getByRole('row', { name: /back/ }).getByText('as agreed').waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'colour-import');
  await dialog(quentin).getByRole('button', { name: 'Record 1 readings' }).click();
  await quentin.getByText(/from reads\.csv/).waitFor();

  await quentin.getByRole('button', { name: 'Final check' }).click();
  await dialog(quentin).getByRole('button', { name: 'Sign the check' }).click();
  await quentin.getByText(/^Final check:/).waitFor();
  await quentin.goto(`${shop.url}/lots/${lot.id}/trace`);
  await quentin.getByText('What was agreed').waitFor();
  await quentin.getByText(/Colour read, back: as agreed/).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'colour-trace');
});

test('colours of lots were found by nobody again', async () => {
  const lena = await enter({ browser, shop, name: 'lena' });
  await lena.goto(`${shop.url}/trace`);
  await lena.getByRole('link', { name: 'Search by colour' }).click();
  for (const [axis, value] of [
    ['L*', '40'],
    ['a*', '8'],
    ['b*', '-30'],
  ] as const)
    await lena.getByLabel(axis, { exact: true }).fill(value);
  await lena.getByRole('button', { name: 'Search', exact: true }).click();
  await lena.getByRole('columnheader', { name: 'Distance' }).waitFor();
  await lena.getByRole('link', { name: lot.number }).first().waitFor();
  await expectAccessible(lena);
  await look(lena, 'colour-search');
  const revision = await shop.db.prisma.recipeRevision.findUniqueOrThrow({
    where: { id: lot.recipeRevisionId },
  });
  await lena.goto(`${shop.url}/recipes/${revision.recipeId}#colour`);
  await lena.getByText('dE from what was agreed').first().waitFor();
  await lena.getByRole('link', { name: lot.number }).first().waitFor();
  await expectAccessible(lena);
  await look(lena, 'colour-chart');
  const olive = await enter({ browser, shop, name: 'olive', size: 'tablet', dark: true });
  await olive.goto(`${shop.url}/setup`);
  await olive.getByRole('textbox', { name: /^Guard band/ }).fill('0');
  await olive.getByText('50.0 %').waitFor();
  await olive.getByRole('button', { name: 'Save guard band' }).click();
  await olive.getByText('Saved').waitFor();
  await expectAccessible(olive);
  expect((await shop.db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } })).colourGuardFactor).toBe(0);
});
