import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { SetUpPage } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { setUpAddresses } from './set-up-addresses.ts';

const pages = fileURLToPath(new URL('../../../routes/(signed-in)', import.meta.url));

test.each(SetUpPage.options)('the checklist led for %s to a page that there is not', (page) => {
  const path = setUpAddresses[page].replace(/\?.*/, '');
  expect(existsSync(`${pages}${path}/+page.svelte`)).toBe(true);
});
