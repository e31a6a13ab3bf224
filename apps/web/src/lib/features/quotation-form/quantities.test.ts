import { expect, it } from 'vitest';
import { readQuantities } from './quantities.ts';

it.each([
  ['48, 480', [48, 480]],
  ['48;480 4800', [48, 480, 4800]],
  ['1,100', [1, 100]],
  ['', []],
])('reads %s', (text, quantities) => {
  expect(readQuantities(text)).toEqual({ quantities, fault: undefined });
});

// An error and a price stood side by side, since the digits of what was no number were priced.
it.each(['1e3', '2.5', '-4', '0', '48, 48', '1,000', '999999999999', '48 pieces'])(
  'asks back for %s and prices nothing',
  (text) => {
    const { quantities, fault } = readQuantities(text);
    expect(quantities).toEqual([]);
    expect(fault).toBeTypeOf('string');
  },
);
