import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const source = path.join(root, 'apps/api/src');
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');
/** As the rules of import name them, the lowest first. */
const listed = /^const wings = \[(.*?)\]/ms.exec(read('.dependency-cruiser.cjs'))?.[1] ?? '';
const wings = [...listed.matchAll(/'(\w+)'/g)].map(([, wing = '']) => wing);

/** The table of DEVELOPERS.md: each wing with its rooms, in its order. */
const drawn = [...read('DEVELOPERS.md').matchAll(/^\| `(\w+)` +\| ([a-z][a-z, -]+?) +\|$/gm)]
  .map(([, wing = '', rooms = '']) => [wing, rooms.split(', ')] as const)
  .filter(([wing]) => wings.includes(wing));

it('the plan in DEVELOPERS.md drew other rooms than there are', () => {
  expect(drawn.map(([wing]) => wing)).toEqual(wings);
  const folders = (wing: string) =>
    readdirSync(path.join(source, wing), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => name)
      .sort();
  expect(Object.fromEntries(drawn)).toEqual(Object.fromEntries(wings.map((wing) => [wing, folders(wing)])));
});

it('a folder stood in the API that is neither a wing nor the floor', () => {
  const folders = readdirSync(source, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && entry.name !== 'generated')
    .map(({ name }) => name);
  const floor = ['db', 'demo', 'documents', 'http', 'kernel', 'plugins', 'process'];
  expect(folders.sort()).toEqual([...wings, ...floor].sort());
});

it.each(['one-request.md', 'five-values.md'])('%s named files that are not there', (document) => {
  const named = [...read(`docs/${document}`).matchAll(/`((?:[\w-]+\/)*[\w.-]+\.(?:ts|svelte))`/g)].map(
    ([, file = '']) => file,
  );
  expect(named.length).toBeGreaterThan(2);
  const places = ['apps/api/src', 'packages/contracts/src', 'packages/calc/src', 'apps/web/src/lib', ''];
  expect(named.filter((file) => !places.some((place) => existsSync(path.join(root, place, file))))).toEqual(
    [],
  );
});
