import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const sources = (...folders: string[]) =>
  execFileSync('git', ['ls-files', ...folders], { cwd: root, encoding: 'utf8' })
    .trim()
    .split('\n')
    .filter((file) => /\.(ts|svelte|html|js)$/.test(file) && !file.includes('.test.'));
const having = (pattern: RegExp, files: string[]) =>
  files.filter((file) => pattern.test(readFileSync(path.join(root, file), 'utf8')));

it('a page made markup out of what somebody typed', () => {
  const pages = sources('apps/web/src', 'apps/web/static');
  expect(pages.length).toBeGreaterThan(300);
  const markup =
    /\{@html|\.(inner|outer)HTML|insertAdjacentHTML|document\.write|\bDOMParser\b|\beval\(|new Function\(/;
  expect(having(markup, pages)).toEqual([]);
});

it('a statement to the database was put together from text', () => {
  const files = sources('apps/api/src').filter((file) => !/src\/(db|demo)\//.test(file));
  expect(files.length).toBeGreaterThan(250);
  expect(having(/RawUnsafe\(|\.query\(\s*(`[^`]*\$\{|'[^']*' \+)/, files)).toEqual([]);
});
