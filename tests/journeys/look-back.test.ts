import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { readPdf } from '../support/pdf.ts';
import { enter, expectAccessible, look, onto, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** Opens a dialog by its button, fills it and sends it. */
async function say(page: Page, button: string | RegExp, fill: (dialog: Locator) => Promise<void>) {
  await page.getByRole('button', { name: button }).first().click();
  const dialog = page.getByRole('dialog').filter({ hasNotText: 'This is your signature.' });
  await dialog.waitFor();
  await fill(dialog);
  await dialog.getByRole('button').last().click();
  await dialog.waitFor({ state: 'detached' });
}

/** A thermometer that readings at the tanks name, in lots of which some were shipped and some are still on the floor. */
async function wordOfThermometer(): Promise<string> {
  const { id } = await shop.db.prisma.instrument.create({
    data: { code: 'TH-7', name: 'Dip thermometer', kind: 'thermometer' },
  });
  const lots = await shop.db.prisma.lot.findMany({
    where: { status: { in: ['shipped', 'running'] }, held: false },
    orderBy: { id: 'desc' },
  });
  const [shipped] = lots.filter(({ status }) => status === 'shipped');
  const [running] = lots.filter(({ status }) => status === 'running');
  for (const lot of [shipped, running]) {
    const signOff = await shop.db.prisma.stepSignOff.findFirstOrThrow({ where: { lotId: lot?.id ?? 0 } });
    await shop.db.prisma.stepReading.create({
      data: { signOffId: signOff.id, quantity: 'conductivitySPerM', value: 61, instrument: 'TH-7' },
    });
  }
  return `instrument-${id}`;
}

test('a thermometer was wrong: from the look-back to holds, letters and a closed assessment', async () => {
  const about = await wordOfThermometer();
  const quentin = await enter({ browser, shop, name: 'quentin' });
  await quentin
    .getByRole('region', { name: /^Impact to assess/ })
    .getByRole('link')
    .first()
    .waitFor();
  await quentin.goto(`${shop.url}/trace/look-back?kind=instrument`);
  await quentin.getByLabel('Which').selectOption(about);
  await quentin.getByRole('heading', { name: 'TH-7 Dip thermometer' }).waitFor();
  await quentin
    .getByRole('link', { name: /conductivity/i })
    .first()
    .waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'look-back');

  await quentin.getByRole('link', { name: 'Open impact assessment' }).click();
  await quentin.getByRole('heading', { name: 'Impact of TH-7 Dip thermometer' }).waitFor();
  await quentin.getByLabel('Reason').fill('TH-7 read 4 K low in ice water and in boiling water.');
  await expectAccessible(quentin);
  await look(quentin, 'assessment-new');
  await quentin.getByRole('button', { name: 'Open impact assessment' }).click();
  await quentin.getByText('Before it can be closed it needs').waitFor();
  const address = quentin.url();

  // The newest lot stands first: it is still on the floor.
  const rows = quentin.getByRole('region', { name: 'Lots under assessment' }).getByRole('row');
  const onFloor = rows.filter({ has: quentin.getByText('running', { exact: true }) });
  const away = rows.filter({ has: quentin.getByText('shipped', { exact: true }) });
  await onFloor.getByRole('checkbox').check();
  await say(quentin, /^Hold 1 lot$/, (dialog) =>
    dialog.getByLabel('Reason').fill('until it is measured again'),
  );
  await onFloor.getByText('on hold').waitFor();
  await onFloor.getByRole('checkbox').check();
  await say(quentin, /^Judge 1 lot$/, (dialog) =>
    dialog.getByLabel('Why').fill('Only degreased with it: 4 K do not matter there.'),
  );
  await onFloor.getByText('not affected', { exact: true }).waitFor();
  await away.getByRole('checkbox').check();
  await say(quentin, /^Judge 1 lot$/, async (dialog) => {
    await dialog.getByLabel('affected', { exact: true }).check();
    await dialog.getByLabel('Why').fill('Coloured 4 K too warm: the shade may be deeper than agreed.');
    await expectAccessible(quentin);
    await look(quentin, 'assessment-judge');
  });
  await quentin.getByText(/^a letter to .* about L-/).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'assessment');

  await quentin.getByRole('link', { name: 'Write letter' }).click();
  await quentin.getByRole('heading', { name: /^Letter to / }).waitFor();
  await quentin.getByLabel('What was found').fill('A thermometer in our shop read 4 K low.');
  await expectAccessible(quentin);
  await look(quentin, 'assessment-letter');
  // Nobody signs without saying as what.
  await quentin.getByRole('button', { name: 'Sign letter' }).click();
  await quentin
    .getByText(/Must be filled in/)
    .first()
    .waitFor();
  await quentin.getByLabel('Your title').fill('Head of quality');
  await quentin.getByRole('button', { name: 'Sign letter' }).click();
  const letter = quentin.getByRole('link', { name: /^Letter CL-/ });
  await letter.waitFor();
  const pdf = await quentin.context().request.get(`${shop.url}${(await letter.getAttribute('href')) ?? ''}`);
  const text = (await readPdf(await pdf.body())).map((page) => page.text).join(' ');
  expect(text).toContain('A thermometer in our shop read 4 K low.');
  expect(text).toContain('Head of quality');
  expect(text).toMatch(/L-\d+/);

  await say(quentin, 'Close', (dialog) =>
    dialog.getByLabel('What was concluded').fill('One lot may be deeper in shade; its customer knows.'),
  );
  await quentin.getByText(/^Closed .* by Quentin/).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'assessment-closed');

  const tablet = await onto(quentin, { dark: true });
  await tablet.goto(address);
  await tablet.getByText(/^Closed .* by Quentin/).waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'assessment-tablet-dark');
  await tablet.goto(`${shop.url}/assessments`);
  await tablet.getByRole('link', { name: /^IA-/ }).first().waitFor();
  // Come to by its address, and not from another page: who may judge sees what waits.
  await tablet.getByText('The record calls for an assessment').waitFor();
  await expectAccessible(tablet);
  await look(tablet, 'assessments-tablet-dark');
}, 240_000);

test('what the record offers is opened or dismissed from Today', async () => {
  const quentin = await enter({ browser, shop, name: 'quentin' });
  const offered = quentin
    .getByRole('region', { name: /^Impact to assess/ })
    .getByRole('link')
    .first();
  const title = (await offered.textContent()) ?? '';
  await offered.click();
  await quentin.getByRole('button', { name: 'Dismiss offer' }).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'assessment-offer');
  expect(await quentin.getByLabel('Reason').inputValue()).not.toBe('');
  await say(quentin, 'Dismiss offer', (dialog) =>
    dialog.getByLabel('Reason').fill('The pieces were measured again before they left.'),
  );
  await quentin.getByRole('heading', { name: 'Impact assessments', level: 1 }).waitFor();
  await quentin.goto(`${shop.url}/today`);
  await quentin.getByRole('heading', { name: 'Today' }).waitFor();
  expect(await quentin.getByRole('link', { name: title.trim() }).count()).toBe(0);
  // Nothing is bound to what nobody used.
  const { id } = await shop.db.prisma.rack.create({
    data: {
      ...(await shop.db.prisma.rack.findFirstOrThrow({ omit: { id: true, version: true, createdAt: true } })),
      code: 'NEVER-USED',
    },
  });
  await quentin.goto(`${shop.url}/trace/look-back?about=rack-${id}`);
  await quentin.getByText('No step of a lot on this rack was signed.').waitFor();
  await look(quentin, 'look-back-nothing');

  // A complaint to its cause: what was unusual about the bad lots, and no more than that.
  const worst = await shop.db.prisma.nonconformance.findFirstOrThrow();
  await quentin.goto(`${shop.url}/nonconformances/${worst.id}`);
  await quentin.getByRole('link', { name: 'Compare with good lots' }).click();
  await quentin.getByText('A ranking is no proof').waitFor();
  await quentin.getByRole('rowheader').first().waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'unusual-factors');

  // What a certificate rests on was corrected since: its page says what, and the list that it is under review.
  await quentin.goto(`${shop.url}/certificates`);
  const row = quentin.getByRole('row').filter({ hasText: 'under review' }).first();
  await row.getByRole('link', { name: /^CC-/ }).click();
  await quentin.getByText('Since it was signed').waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'certificate-under-review');
  await quentin.getByRole('link', { name: /^[0-9A-Z]{4}(-[0-9A-Z]{4}){3}$/ }).click();
  await quentin.getByText(/stands and is under review$/).waitFor();
  await expectAccessible(quentin);
  await look(quentin, 'certificate-check-under-review');
}, 240_000);
