import { expect, test } from 'vitest';
import { capitalise } from './capitalise.ts';

test('Tankside, corrections and the trace said “PH”', () => {
  expect(capitalise('pH')).toBe('pH');
  expect(capitalise('pH of the bath')).toBe('pH of the bath');
  expect(capitalise('temperature')).toBe('Temperature');
  expect(capitalise('')).toBe('');
});
