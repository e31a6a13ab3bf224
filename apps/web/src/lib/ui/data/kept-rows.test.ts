import { expect, it } from 'vitest';
import { KeptRows } from './kept-rows.ts';

it('showed whoever signed in next what a colleague had been shown on the same screen', () => {
  const kept = new KeptRows();
  kept.keep({ entry: 'a', personId: 1, items: ['a price'], next: null });
  expect(kept.find('a', 1)?.items).toEqual(['a price']);
  expect(kept.find('a', 2)).toBeNull();
  expect(kept.find('a', null)).toBeNull();
});

it('grew with every list that was looked at', () => {
  const kept = new KeptRows();
  for (let index = 0; index < 31; index += 1)
    kept.keep({ entry: String(index), personId: 1, items: [index], next: null });
  expect(kept.find('0', 1)).toBeNull();
  expect(kept.find('30', 1)?.items).toEqual([30]);
});
