import { expect, test } from 'vitest';
import { tankSearch } from './tank-search.ts';

test.each([
  ['http://192.168.1.4:4070/t/T-00093/1', 'T-00093', 't93'],
  ['https://shop.example/t/T-00093/2?from=paper', 'T-00093', 't93'],
  ['https://shop.example/t/%E0%A4%A/2', '%E0%A4%A', null],
  ['t93', 't93', 't93'],
  ['L-00093', 'L-00093', 'l93'],
  ['l 93', 'l 93', 'l93'],
  ['Bright Knob Works', 'Bright Knob Works', null],
  ['KN-12-A', 'KN-12-A', null],
  ['', '', null],
])('“%s” found nothing', (typed, words, said) => {
  expect(tankSearch(typed)).toEqual({ words, said });
});
