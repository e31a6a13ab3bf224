import { signedInCookie } from '@huelot/contracts';
import { launchBrowser } from '../support/browser.ts';

/**
 * How a chart page moves under the hand: a walk along the points by key, a stretch dragged open, and all of it again,
 * three times over. Milliseconds that 95 of 100 frames stay under; 16.7 is a screen's own pace.
 */
export async function frameMs(options: { url: string; token: string; page: string }): Promise<number> {
  const browser = await launchBrowser();
  try {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    await context.addCookies([
      { name: 'huelot', value: options.token, url: options.url },
      { name: signedInCookie, value: '1', url: options.url },
    ]);
    const page = await context.newPage();
    await page.goto(`${options.url}${options.page}`);
    const plot = page.getByRole('slider').first();
    await plot.scrollIntoViewIfNeeded();
    const box = await plot.boundingBox();
    if (!box) throw new Error('no chart on the page');
    const at = (share: number): [number, number] => [box.x + share * box.width, box.y + box.height / 2];
    // As text: what tsx makes of a function with a name does not run in a page.
    await page.evaluate(`{
      const frames = (globalThis.frames = []);
      requestAnimationFrame(function next(now) {
        frames.push(now);
        requestAnimationFrame(next);
      });
    }`);
    for (let round = 0; round < 3; round += 1) {
      await plot.focus();
      for (let step = 0; step < 60; step += 1) await page.keyboard.press('ArrowLeft');
      await page.mouse.move(...at(0.4));
      await page.mouse.down();
      await page.mouse.move(...at(0.6), { steps: 60 });
      await page.mouse.up();
      await page.getByRole('button', { name: 'All', exact: true }).click();
    }
    const frames = await page.evaluate(() => (globalThis as unknown as { frames: number[] }).frames);
    const gaps = frames.slice(1).map((now, i) => now - (frames[i] ?? now));
    return gaps.toSorted((a, b) => a - b)[Math.floor(0.95 * gaps.length)] ?? NaN;
  } finally {
    await browser.close();
  }
}
