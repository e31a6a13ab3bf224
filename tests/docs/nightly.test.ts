import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { nightlyFiles } from '../support/nightly.ts';

const root = path.resolve(import.meta.dirname, '../..');

it('a test that was moved away was left out of every run', () => {
  expect(nightlyFiles.filter((file) => !existsSync(path.join(root, file)))).toEqual([]);
  expect(new Set(nightlyFiles).size).toBe(nightlyFiles.length);
});

it('the command that runs them was named nowhere', () => {
  const { scripts } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as {
    scripts: Record<string, string>;
  };
  expect(scripts['test:nightly']).toBe('node tests/run.mjs --nightly');
  for (const document of ['DEVELOPERS.md', 'docs/operations.md', 'docs/security.md'])
    expect(readFileSync(path.join(root, document), 'utf8'), document).toContain('npm run test:nightly');
});
