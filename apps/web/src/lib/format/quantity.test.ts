import { QUANTITY_NAMES } from '@huelot/calc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsInUnits, quantityText, readQuantity } from './quantity.ts';
import { toDisplay } from '@huelot/calc';

describe('quantities as a person sees them', () => {
  it('shows a square foot for what it is: 929.0304 cm² (NIST SP 811)', () => {
    expect(quantityText({ quantity: 'area', value: 92903.04, system: 'us' })).toBe('1.000\u00a0ft²');
    expect(quantityText({ quantity: 'area', value: 92903.04, system: 'metric' })).toBe('9.29\u00a0dm²');
  });

  it('reads what was typed into the stored unit', () => {
    expect(readQuantity('212', { quantity: 'temperature', system: 'us', stored: null }).value).toBe(100);
    expect(readQuantity('1,5', { quantity: 'duration', system: 'metric', stored: null }).value).toBe(90);
  });

  it('says what is wrong instead of guessing', () => {
    expect(readQuantity('1,000', { quantity: 'length', system: 'metric', stored: null }).fault).toMatch(
      /1000/,
    );
    expect(readQuantity('-500', { quantity: 'temperature', system: 'metric', stored: null }).fault).toMatch(
      /outside/,
    );
  });

  it('gives the stored value back when its own text is read, in either system', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...QUANTITY_NAMES),
        fc.constantFrom('metric' as const, 'us' as const),
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        (quantity, system, stored) => {
          const { text } = toDisplay({ quantity, value: stored, system });
          expect(readQuantity(text, { quantity, system, stored }).value).toBe(stored);
        },
      ),
    );
  });
});

it('tells the bounds of a refusal in the units of the person, who read °C beside a field in °F', () => {
  const said = (message: string) =>
    boundsInUnits(message, { quantity: 'temperature', system: 'us' }).replaceAll('\u00a0', ' ');
  expect(said('must be at most 150')).toBe('must be at most 302.0 °F');
  expect(said('must be at least -20 and at most 150')).toBe('must be at least −4.0 °F and at most 302.0 °F');
  expect(said('must be at most 40 °C in this tank')).toBe('must be at most 40 °C in this tank');
  expect(said('must be filled in')).toBe('must be filled in');
});
