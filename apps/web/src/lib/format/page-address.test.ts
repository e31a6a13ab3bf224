import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PageKind } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { pageAddress } from './page-address.ts';

/** Whether a file of the routes draws the page at an address. */
function isDrawn(address: string): boolean {
  const [path = ''] = address.split('?');
  const folder = fileURLToPath(new URL('../../routes/(signed-in)', import.meta.url));
  return ['[id]', '[lotId]', '1'].some((id) => existsSync(`${folder}${path.replace('1', id)}/+page.svelte`));
}

test.each(PageKind.options)('the record %s was linked to a page that there is not', (kind) => {
  expect(isDrawn(pageAddress({ kind, id: 1 }))).toBe(true);
});
