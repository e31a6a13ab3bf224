import { expect, test } from 'vitest';
import { priceUnitOf, shownPrice, storedPrice } from './price-unit.ts';

test('prices of a rate card stood per m², m³ and kg for a shop in US units', () => {
  expect(priceUnitOf('m²', 'us')).toEqual({ name: 'ft²', factor: 0.09290304 });
  expect(priceUnitOf('kg', 'us').name).toBe('lb');
  const water = priceUnitOf('m³', 'us');
  expect(water.name).toBe('1000 gal');
  expect(water.factor).toBeCloseTo(3.785411784, 9);
  expect(priceUnitOf('kg', 'metric')).toEqual({ name: 'kg', factor: 1 });
  expect(priceUnitOf('h', 'us')).toEqual({ name: 'h', factor: 1 });
});

test.each([0.25, 12.5, 3, 0.1, 17.28, 1234.56])(
  'a price of %d typed in US units comes back as typed',
  (typed) => {
    for (const per of ['m²', 'm³', 'kg'] as const) {
      const { factor } = priceUnitOf(per, 'us');
      expect(shownPrice(storedPrice(typed, factor), factor)).toBe(typed);
    }
  },
);
