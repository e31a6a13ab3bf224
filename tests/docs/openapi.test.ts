import { readFileSync } from 'node:fs';
import path from 'node:path';
import { createConfig, lintFromString } from '@redocly/openapi-core';
import { expect, test } from 'vitest';
import packageJson from '../../package.json' with { type: 'json' };
import { servedOpenApi } from '../support/openapi.ts';

const file = path.resolve(import.meta.dirname, '../../docs/openapi.json');
const written = readFileSync(file, 'utf8');

test('docs/openapi.json was not what the service answers: run npm run openapi', async () => {
  expect((await servedOpenApi(packageJson.version)) === written).toBe(true);
});

// The linter is pinned to one release: what it recommends changes with each.
test('the description keeps the rules that a linter recommends', async () => {
  const faults = await lintFromString({
    source: written,
    absoluteRef: file,
    config: await createConfig({ extends: ['recommended'] }),
  });
  expect(faults.map(({ ruleId, message, location }) => [ruleId, message, location[0]?.pointer])).toEqual([]);
});
