import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { browserPath } from '../../../tests/support/browser-path.mjs';
import { launchBrowser } from '../../../tests/support/browser.ts';

/** What a page saw: when each of its frames began and what its work in it took, in milliseconds. */
export interface Measured {
  beganMs: number[];
  workMs: number[];
}

/**
 * Runs a page of this folder in a real browser: frames a second, and the milliseconds that 95 of 100 of its frames stay
 * under. `null` where there is no browser.
 */
export async function measureInBrowser(
  file: 'map-page.ts' | 'strip-page.ts',
): Promise<{ framesPerSecond: number; workMs: number } | null> {
  if (browserPath() === null) return null;
  const entry = fileURLToPath(new URL(file, import.meta.url));
  const { outputFiles } = await build({ entryPoints: [entry], bundle: true, minify: true, write: false });
  const browser = await launchBrowser();
  try {
    const page = await browser.newPage();
    await page.setContent('<!doctype html><title>A picture that follows a slider</title>');
    await page.addScriptTag({ content: outputFiles[0]?.text ?? '' });
    const { beganMs, workMs } = await page.evaluate(() =>
      (globalThis as unknown as { measure: () => Promise<Measured> }).measure(),
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
