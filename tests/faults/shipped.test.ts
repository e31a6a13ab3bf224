import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { builtInOf, noticesFile } from '../../deploy/third-party.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const inside = (build: string) =>
  JSON.parse(readFileSync(path.join(root, build, '.vite/packages.json'), 'utf8')) as string[];

test('a build held a package whose licence the notices did not have: run npm run notices', () => {
  const service = inside('apps/api/build');
  const pages = inside('apps/web/.svelte-kit/output/client');
  expect(service).toContain('node_modules/@prisma/client');
  expect(pages).toContain('node_modules/svelte');
  const marked = builtInOf(readFileSync(noticesFile, 'utf8'));
  expect([...new Set([...service, ...pages])].sort()).toEqual([...marked].sort());
});
