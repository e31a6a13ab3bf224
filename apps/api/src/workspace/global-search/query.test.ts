import { describe, expect, it } from 'vitest';
import { findWords, numbersSaid } from './query.ts';

const series = [
  { prefix: 'Q-', digits: 5 },
  { prefix: 'L-', digits: 5 },
  { prefix: 'LAB', digits: 3 },
];
const meant = (typed: string) => numbersSaid(findWords(typed).said, series);

describe('a search that knew a number only as it is printed', () => {
  it.each([
    ['51', ['Q-00051', 'L-00051', 'LAB051']],
    ['Q-51', ['Q-00051']],
    ['q51', ['Q-00051']],
    ['Q-00051', ['Q-00051']],
    ['l 93', ['L-00093', 'LAB093']],
    ['Acme', []],
    ['6061-T6', []],
  ])('%s may be %j', (typed, numbers) => expect(meant(typed)).toEqual(numbers));

  it.each([
    ['https://shop.example/t/T-00093/1', 'T-00093'],
    [' http://192.168.1.5:4070/t/T-00093/2?x=1 ', 'T-00093'],
    ['https://shop.example/t/T%2F93/1', 'T/93'],
    ['https://shop.example/lots/93', 'https://shop.example/lots/93'],
  ])('reads the number out of the scanned address %s', (typed, words) =>
    expect(findWords(typed).words).toBe(words),
  );
});
