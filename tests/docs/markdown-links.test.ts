import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const pages = execFileSync('git', ['ls-files', '*.md'], { cwd: root, encoding: 'utf8' }).trim().split('\n');

/** What a heading is reached by, as forges make it: lower case, spaces to dashes, marks dropped. */
function anchorsOf(page: string): string[] {
  const text = readFileSync(path.join(root, page), 'utf8').replace(/^```[\s\S]*?^```/gm, '');
  return [...text.matchAll(/^#+ (.+)$/gm)].map(([, heading = '']) =>
    heading
      .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
      .toLowerCase()
      .replace(/[^\p{L}\p{N}_\- ]/gu, '')
      .replaceAll(' ', '-'),
  );
}

function brokenLinks(page: string): string[] {
  const text = readFileSync(path.join(root, page), 'utf8').replace(/^```[\s\S]*?^```/gm, '');
  return [...text.matchAll(/\]\(([^)\s]+)\)/g)]
    .map(([, target = '']) => target)
    .filter((target) => !/^[a-z]+:/.test(target))
    .filter((target) => {
      const [file = '', anchor] = target.split('#');
      const reached = file === '' ? page : path.normalize(path.join(path.dirname(page), file));
      if (!existsSync(path.join(root, reached))) return true;
      return anchor !== undefined && reached.endsWith('.md') && !anchorsOf(reached).includes(anchor);
    });
}

it('looks at the pages there are', () => {
  expect(pages.length).toBeGreaterThan(40);
});

it.each(pages)('%s had links that lead nowhere', (page) => {
  expect(brokenLinks(page)).toEqual([]);
});
