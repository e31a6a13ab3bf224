import { chromium, type Browser } from 'playwright-core';
import { browserPath } from './browser-path.mjs';

const quietFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // A write that leaves while a service worker is started reaches the service past the switch that takes the network away.
  '--disable-features=ServiceWorkerAutoPreload',
];

/**
 * A real browser without a window; the caller closes it. `hosts` says where names lead, as Chromium writes it: `MAP shop.test 127.0.0.1`.
 *
 * @example
 * const browser = await launchBrowser();
 * const page = await browser.newPage();
 */
export async function launchBrowser({ hosts = '' }: { hosts?: string } = {}): Promise<Browser> {
  const executablePath = browserPath();
  if (executablePath === null)
    throw new Error('No Chromium found: run npm test, which installs one, or install it.');
  const browser = await chromium.launch({
    executablePath,
    args: [...quietFlags, ...(hosts === '' ? [] : [`--host-resolver-rules=${hosts}`])],
  });
  openBrowsers.add(browser);
  browser.once('disconnected', () => openBrowsers.delete(browser));
  return browser;
}

/** Those that are still open, for whoever wants to see what they show. */
export const openBrowsers = new Set<Browser>();
