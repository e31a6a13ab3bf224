import { existsSync } from 'node:fs';
import path from 'node:path';
import { chromium } from 'playwright-core';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const elsewhere = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

/** The Chromium that tests drive: the system's, else the one Playwright has downloaded, else `null`. */
export function browserPath() {
  const folders = (process.env.PATH ?? '').split(path.delimiter);
  const installed = names.flatMap((name) => folders.map((folder) => path.join(folder, name)));
  return [...installed, ...elsewhere, chromium.executablePath()].find((file) => existsSync(file)) ?? null;
}
