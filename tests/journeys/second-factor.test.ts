import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { codeAt } from '../../apps/api/src/core/people/authenticator-app.ts';
import { launchBrowser } from '../support/browser.ts';
import { enter, expectAccessible, look, openShop, type Shop } from './shop-in-a-browser.ts';

let browser: Browser;
let shop: Shop;
beforeAll(async () => {
  [browser, shop] = await Promise.all([launchBrowser(), openShop()]);
}, 240_000);
afterAll(async () => {
  await browser.close();
  await shop.close();
});

/** A device that keeps passkeys and knows its person, as Chromium's own tools make one. */
async function giveAuthenticator(page: Page) {
  const session = await page.context().newCDPSession(page);
  await session.send('WebAuthn.enable');
  await session.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      protocol: 'ctap2',
      transport: 'internal',
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      automaticPresenceSimulation: true,
    },
  });
}
const passwordOf = (name: string) => shop.people.find((person) => person.name === name)?.password ?? '';

async function prove(page: Page, name: string) {
  const asking = page.getByRole('dialog', { name: 'Confirm it is you' });
  await asking.getByLabel('Your password').fill(passwordOf(name));
  await asking.getByRole('button', { name: 'Continue' }).click();
}
async function signOut(page: Page) {
  await page.getByRole('button', { name: 'My account and settings' }).click();
  await page.getByRole('menuitem', { name: 'Sign out' }).click();
  await page.getByLabel('Sign-in name').waitFor();
}
async function givePassword(page: Page, name: string) {
  await page.getByLabel('Sign-in name').fill(name);
  await page.getByLabel('Password', { exact: true }).fill(passwordOf(name));
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
}

test('a passkey is added, signs in after the password and alone, is renamed and removed', async () => {
  const page = await enter({ browser, shop, name: 'lena' });
  await giveAuthenticator(page);
  await page.goto(`${shop.url}/account/security`);
  await page.getByLabel('Name of the passkey').fill('bench laptop');
  await page.getByRole('button', { name: 'Add a passkey' }).click();
  await prove(page, 'lena');
  await page.getByText('Your recovery codes').waitFor();
  await page.getByText('bench laptop', { exact: true }).waitFor();
  await look(page, 'security-with-passkey');
  await expectAccessible(page);
  await signOut(page);

  await givePassword(page, 'lena');
  await page.getByRole('heading', { name: 'Second step' }).waitFor();
  await look(page, 'second-step');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Use a passkey', exact: true }).click();
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  await page.getByRole('button', { name: 'My account and settings' }).waitFor();
  await signOut(page);

  await page.getByRole('button', { name: 'Use a passkey instead' }).click();
  await page.getByRole('button', { name: 'My account and settings' }).waitFor();

  await page.goto(`${shop.url}/account/security`);
  await page.getByRole('button', { name: 'Rename bench laptop' }).click();
  const renaming = page.getByRole('dialog', { name: 'Rename passkey' });
  await renaming.getByLabel('Name').fill('old laptop');
  await renaming.getByRole('button', { name: 'Rename' }).click();
  await page.getByRole('button', { name: 'Remove old laptop' }).click();
  await page.getByRole('button', { name: 'Remove passkey' }).click();
  const asking = page.getByRole('dialog', { name: 'Confirm it is you' });
  await look(page, 'is-it-you');
  await asking.getByRole('button', { name: 'Use a passkey' }).click();
  await page.getByText('They come with the first passkey or app.').waitFor();
  expect(await shop.db.prisma.passkey.count()).toBe(0);
  await page.context().close();
});

test('whose role needs a second factor is led to add an app, and signs in with it', async () => {
  const olive = await enter({ browser, shop, name: 'olive' });
  await olive.goto(`${shop.url}/people/roles`);
  await olive.getByLabel('quality').check();
  await olive.getByRole('button', { name: 'Save' }).click();
  await prove(olive, 'olive');
  await olive.getByText('Saved', { exact: true }).waitFor();
  await look(olive, 'who-needs-a-second-factor');
  await olive.context().close();

  const context = await browser.newContext({ locale: 'en-GB' });
  const page = await context.newPage();
  await page.goto(shop.url);
  await givePassword(page, 'quentin');
  await page.getByText('One of your roles needs a second factor').waitFor();
  await page.goto(`${shop.url}/lots`);
  await page.getByRole('button', { name: 'Add an authenticator app' }).click();
  await prove(page, 'quentin');
  const shownSecret = await page.getByText('Or type it:').locator('.figure').innerText();
  const secret = shownSecret.replaceAll(' ', '');
  await look(page, 'authenticator-app');
  await page.getByLabel('Code', { exact: true }).fill(codeAt(secret, Date.now() - 30_000));
  await page.getByRole('button', { name: 'Add the app' }).click();
  await page.getByText('Your recovery codes').waitFor();
  await page.goto(`${shop.url}/lots`);
  await page.getByRole('heading', { name: 'Lots', level: 1 }).waitFor();
  await signOut(page);

  await givePassword(page, 'quentin');
  await page.getByLabel('Code', { exact: true }).fill(codeAt(secret, Date.now()));
  await page.getByRole('button', { name: 'Continue' }).click();
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
  await context.close();
});
