import { expect, test } from 'vitest';
import * as catalog from './catalog/index.ts';
import * as colour from './colour/index.ts';
import * as core from './core/index.ts';
import * as lab from './lab/index.ts';
import type { Endpoint } from './kernel/http.ts';
import * as production from './production/index.ts';
import * as quality from './quality/index.ts';
import * as sales from './sales/index.ts';
import * as workspace from './workspace/index.ts';

const wings = { core, catalog, lab, colour, sales, production, quality, workspace };

test.each(Object.entries(wings))('endpoints of %s have the name they are exported by', (wing, exports) => {
  const endpoints = Object.entries(exports as object).filter(
    (entry): entry is [string, Endpoint] =>
      typeof entry[1] === 'object' && entry[1] !== null && 'otherReplies' in entry[1],
  );
  expect(endpoints.length).toBeGreaterThan(1);
  expect(endpoints.map(([, { name, tags }]) => [name, ...tags])).toEqual(
    endpoints.map(([name]) => [name, wing]),
  );
});
