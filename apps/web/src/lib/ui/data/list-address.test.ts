import { expect, it } from 'vitest';
import { nextSort, sortState, withQuery } from './list-address.ts';

it('asks the same list another way', () => {
  const url = new URL('http://shop/parts?search=ring&after=abc');
  expect(withQuery(url, { sort: '-number' })).toBe('/parts?search=ring&sort=-number');
  expect(withQuery(url, { search: '' })).toBe('/parts');
  expect(withQuery(url, { search: 'a&b' })).toBe('/parts?search=a%26b');
});

it('turns the order of a column over', () => {
  expect(nextSort('name', null)).toBe('name');
  expect(nextSort('name', 'name')).toBe('-name');
  expect(nextSort('name', '-name')).toBe('name');
  expect([sortState('name', 'name'), sortState('name', '-name'), sortState('name', 'due')]).toEqual([
    'ascending',
    'descending',
    'none',
  ]);
});
