import path from 'node:path';
import { afterEach } from 'vitest';
import { openBrowsers } from './browser.ts';

/** What every open page showed when a journey failed, in a folder that git ignores. */
afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  const pages = [...openBrowsers].flatMap((browser) => browser.contexts().flatMap((one) => one.pages()));
  const name = task.name.replace(/\W+/g, '-').slice(0, 60);
  await Promise.allSettled(
    pages.map((page, index) => page.screenshot({ path: path.join('test-failures', `${name}-${index}.png`) })),
  );
});
