import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { measure } from './strip-page.ts';
import { browserPath } from '../../../tests/support/browser-path.mjs';
import { launchBrowser } from '../../../tests/support/browser.ts';

/**
 * A strip of 400 voltages that follows a slider in a real browser: frames a second, and the milliseconds that 95 of 100
 * strips stay under. `null` where there is no browser.
 */
export async function stripInBrowser(): Promise<{ framesPerSecond: number; workMs: number } | null> {
  if (browserPath() === null) return null;
  const entry = fileURLToPath(new URL('strip-page.ts', import.meta.url));
  const { outputFiles } = await build({ entryPoints: [entry], bundle: true, minify: true, write: false });
  const browser = await launchBrowser();
  try {
    const page = await browser.newPage();
    await page.setContent('<!doctype html><title>A colour strip</title>');
    await page.addScriptTag({ content: outputFiles[0]?.text ?? '' });
    const { beganMs, workMs } = await page.evaluate(() =>
      (globalThis as unknown as { measure: typeof measure }).measure(),
    );
    const seconds = ((beganMs.at(-1) ?? NaN) - (beganMs[0] ?? NaN)) / 1000;
    const sorted = workMs.toSorted((one, other) => one - other);
    return {
      framesPerSecond: (beganMs.length - 1) / seconds,
      workMs: sorted[Math.floor(0.95 * sorted.length)] ?? NaN,
    };
  } finally {
    await browser.close();
  }
}
