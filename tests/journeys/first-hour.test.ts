import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { issueFirstAdminCode } from '../../apps/api/src/core/people/index.ts';
import { launchBrowser } from '../support/browser.ts';
import { readPdf } from '../support/pdf.ts';
import {
  expectAccessible,
  expectHandy,
  givingPassword,
  look,
  openHouse,
  type Shop,
  sizes,
} from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openHouse(() => Promise.resolve([]))]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

const password = 'four plain words here';

/** What a person does by hand: counted, so that nobody has to guess how long an hour is. */
class Hand {
  clicks = 0;
  fields = 0;
  readonly begun = Date.now();
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }
  async click(role: 'button' | 'link' | 'option' | 'tab', name: string | RegExp) {
    this.clicks += 1;
    await this.page
      .getByRole(role, { name, exact: typeof name === 'string' })
      .first()
      .click();
  }
  async fill(label: string | RegExp, text: string) {
    this.fields += 1;
    await this.page
      .getByLabel(label, { exact: typeof label === 'string' })
      .first()
      .fill(text);
  }
  async choose(label: string, option: string) {
    this.fields += 1;
    await this.page.getByLabel(label, { exact: true }).selectOption({ label: option });
  }
  async press(label: string | RegExp) {
    this.clicks += 1;
    await this.page
      .getByLabel(label, { exact: typeof label === 'string' })
      .first()
      .click();
  }
}

async function takeOver(hand: Hand, { set, rows }: { set: string; rows: RegExp[] | 'all' }) {
  const { page } = hand;
  await hand.click('link', new RegExp(`^Starter set for: ${set}`));
  await page.getByRole('heading', { name: /^Starter set:/ }).waitFor();
  await expectAccessible(page);
  await look(page, `first-${set.replaceAll(/\W+/g, '-')}`);
  if (rows !== 'all') {
    await hand.click('button', 'Choose none');
    for (const row of rows) await hand.press(row);
  }
  await hand.click('button', /^Take over \d+$/);
  await page.getByRole('heading', { name: 'Set up the shop', level: 1 }).waitFor();
}

test('the shop’s first hour on an empty install ends with a quotation', async () => {
  const context = await browser.newContext({
    ...{ viewport: sizes.tablet, colorScheme: 'light', locale: 'en-GB' },
  });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await givingPassword(page, password);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
  const hand = new Hand(page);
  const onto = async (name: string | RegExp) => {
    await page.goto(`${shop.url}/setup/getting-started`);
    hand.clicks += 1;
    await hand.click('link', name);
  };

  // The first owner, with the code from the console.
  const code = await issueFirstAdminCode(shop.db);
  await page.goto(shop.url);
  await hand.fill('One-time code', code ?? '');
  await hand.fill('Name of the shop', 'Anvil and Hue');
  await hand.fill('Your name', 'Olive Grant');
  await hand.fill('Sign-in name', 'olive');
  await hand.fill('Password', password);
  await hand.click('button', 'Create the shop');
  await page.getByRole('heading', { name: 'Today' }).waitFor();
  await expectAccessible(page);
  await look(page, 'first-today');
  await hand.click('link', 'Go on setting up');
  await page.getByRole('heading', { name: 'Set up the shop', level: 1 }).waitFor();
  await page.getByText(/things are missing for the first quotation/).waitFor();
  await expectAccessible(page);
  await expectHandy(page);
  await look(page, 'first-checklist');

  await hand.click('link', 'Enter the address');
  await hand.fill('Address', 'Mill Lane 4\n2000 Hollow');
  await hand.click('button', 'Save shop');
  await page.getByText('Shop saved').waitFor();
  await page.goto(`${shop.url}/setup/getting-started`);

  await takeOver(hand, { set: 'A tank', rows: [/T1 Alkaline clean/, /T2 Rinse/, /T3 Interference colour/] });
  await takeOver(hand, { set: 'A power supply', rows: [/PS-1/] });
  await takeOver(hand, { set: 'A rack', rows: [/RK-1/] });
  await takeOver(hand, { set: 'Rates and margin', rows: 'all' });
  await takeOver(hand, { set: 'An approved recipe', rows: [/Blue on titanium/] });

  // Nobody else is here who could approve: the setting is found where the refusal says, and the name is typed.
  await hand.click('link', 'Approve a draft');
  await hand.click('link', /Blue on titanium, 20 V/);
  await page.getByText('nobody else here may approve it', { exact: false }).waitFor();
  await page.goto(`${shop.url}/setup`);
  hand.clicks += 1;
  await hand.press('An author approves where nobody else may');
  await hand.click('button', 'Save approvals');
  await page.getByText('Saved', { exact: true }).waitFor();
  await expectAccessible(page);
  await page.goto(`${shop.url}/recipes/1`);
  await hand.click('button', 'Approve as its author');
  // A starter stands on no coupon of this shop: who adopts it says why all the same.
  await hand.fill(/^Why it is approved all the same/, 'proved in the laboratory before, coupons follow');
  await hand.fill(/^Type your name to sign/, 'Olive Grant');
  await expectAccessible(page);
  await look(page, 'first-approval');
  await hand.click('button', 'Approve my own draft');
  await page.getByText('approved by its author, no second person', { exact: false }).first().waitFor();

  // Customers come from a list that was kept in a spreadsheet.
  await page.goto(`${shop.url}/customers`);
  await hand.click('link', 'Import');
  await hand.fill(
    /^Or paste cells/,
    'Company\tContact person\tE-mail\tAddress\nKestrel Bikes\tIda Moor\tida@example.com\tKiln Road 2',
  );
  await hand.click('button', 'Read what was pasted');
  await hand.click('button', 'Check the table');
  await page.getByText('1 customer can be stored').waitFor();
  await expectAccessible(page);
  await look(page, 'first-import');
  await hand.click('button', 'Store 1 customer');
  await page.getByRole('link', { name: 'Kestrel Bikes' }).waitFor();

  // The longer list that comes later holds her again: the button that leaves her out was never shown.
  await page.goto(`${shop.url}/customers`);
  await hand.click('link', 'Import');
  await hand.fill(/^Or paste cells/, 'Company\tE-mail\nKestrel Bikes\tida@example.com\nOtter Boats\t');
  await hand.click('button', 'Read what was pasted');
  await hand.click('button', 'Check the table');
  await page.getByText('1 line is on record already').waitFor();
  await hand.click('button', 'Leave it out');
  await page.getByRole('button', { name: 'Store 1 customer' }).waitFor();

  await onto('Add a part');
  await hand.fill('Customer', 'Kestrel');
  await hand.click('option', /Kestrel Bikes/);
  await hand.fill("Customer's part number", 'KB-7');
  await hand.choose('Material', 'Titanium grade 2, annealed');
  await hand.press('Typed');
  await hand.fill(/^Area of one part/, '1.2');
  await hand.fill('Source of the figure', 'drawing');
  await hand.fill(/^Width/, '40');
  await hand.fill(/^Height/, '60');
  await hand.press('Weighed, and typed');
  await hand.fill(/^Mass of one part/, '40');
  await expectAccessible(page);
  await look(page, 'first-part');
  await hand.click('button', 'Save part');
  await page.waitForURL(/\/parts\/\d+$/);

  await onto(/^(Quote|New quotation)$/);
  await hand.fill('Customer', 'Kestrel');
  await hand.click('option', /Kestrel Bikes/);
  await page.getByRole('button', { name: 'build-up' }).first().waitFor();
  await expectAccessible(page);
  await look(page, 'first-quotation');
  await hand.click('button', 'Save draft');
  await hand.click('button', 'Send');
  await page.getByText('Colour subject to a first article').first().waitFor();
  await hand.fill('Reason', 'the first pieces show it');
  await expectAccessible(page);
  await look(page, 'first-sending');
  await hand.click('button', 'Send quotation');
  await page.getByText('sent', { exact: true }).first().waitFor();
  const href = await page.getByRole('link', { name: 'PDF' }).first().getAttribute('href');
  const paper = await readPdf(await (await page.request.get(`${shop.url}${href}`)).body());
  const words = paper.map(({ text }) => text).join(' ');
  for (const expected of [
    'Anvil and Hue',
    'Kestrel Bikes',
    'KB-7',
    'Blue on titanium, 20 V',
    'first article',
  ])
    expect(words).toContain(expected);

  // Today asks for nothing more, and the checklist still says that the rates are examples.
  await page.goto(`${shop.url}/today`);
  await page.getByRole('heading', { name: 'Today' }).waitFor();
  expect(await page.getByRole('link', { name: 'Go on setting up' }).count()).toBe(0);
  await page.goto(`${shop.url}/setup/getting-started`);
  await page.getByText('put your own in before a price goes to a customer', { exact: false }).waitFor();
  expect(faults).toEqual([]);
  const seconds = Math.round((Date.now() - hand.begun) / 1000);
  console.log(`first hour: ${hand.clicks} clicks, ${hand.fields} fields, ${seconds} s by a machine`);
  expect(hand.clicks + hand.fields).toBeLessThan(90);
});
