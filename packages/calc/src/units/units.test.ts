import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convert, displayUnit, fromDisplay, QUANTITIES, QUANTITY_NAMES, toDisplay, UNITS } from './index.ts';
import type { Unit } from './index.ts';

/** NIST Special Publication 811 (2008), appendix B.8, factors as printed there; exact ones are marked in bold there. */
const NIST_SP_811: [Unit, Unit, number, string][] = [
  ['in', 'mm', 25.4, 'inch to millimetre, exact'],
  ['ft', 'm', 0.3048, 'foot to metre, exact'],
  ['mil', 'mm', 0.0254, 'mil to millimetre, exact'],
  ['ft2', 'm2', 0.09290304, 'square foot to square metre, exact'],
  ['in2', 'mm2', 645.16, 'square inch to square millimetre, exact'],
  ['in3', 'cm3', 16.387064, 'cubic inch to cubic centimetre, exact'],
  ['gal', 'L', 3.785411784, 'gallon (US) to litre, exact by 231 cubic inches'],
  ['lb', 'kg', 0.45359237, 'pound (avoirdupois) to kilogram, exact'],
  ['oz', 'g', 28.349523125, 'ounce (avoirdupois) to gram, exact'],
  ['degF', 'degC', -17.2222222222222, '1 °F on the Celsius scale'],
  ['deltaF', 'deltaK', 0.555555555555556, 'degree Fahrenheit interval to kelvin'],
];

describe('convert, against NIST Special Publication 811 appendix B', () => {
  it.each(NIST_SP_811)('%s to %s: %d (%s)', (from, to, factor) => {
    expect(convert({ value: 1, from, to })).toBe(factor);
  });

  // Printed there with seven figures; the product of exact definitions must round to the same.
  it.each<[Unit, Unit, number]>([
    ['APerFt2', 'APerM2', 10.76391],
    ['ozPerGal', 'gPerL', 7.489152],
    ['lbPerGal', 'kgPerM3', 119.8264],
    ['lbPerIn3', 'kgPerM3', 27679.9],
    ['ozPerFt2', 'gPerM2', 305.1517],
  ])('%s to %s: %d to seven figures', (from, to, factor) => {
    expect(Number(convert({ value: 1, from, to }).toPrecision(7))).toBe(factor);
  });

  it('reads boiling water as 212 °F and 373.15 K', () => {
    expect(convert({ value: 100, from: 'degC', to: 'degF' })).toBe(212);
    expect(convert({ value: 100, from: 'degC', to: 'kelvin' })).toBe(373.15);
    expect(convert({ value: -40, from: 'degF', to: 'degC' })).toBe(-40);
  });

  it.each<[string, Parameters<typeof convert>[0], RegExp]>([
    [
      'units of different dimensions',
      { value: 1, from: 'mm', to: 'kg' },
      /to is kg; allowed: a unit of length, like mm/,
    ],
    ['NaN', { value: NaN, from: 'mm', to: 'in' }, /value is NaN/],
    [
      'less than absolute zero',
      { value: -460, from: 'degF', to: 'degC' },
      /value is -460; allowed: at least -459.67/,
    ],
    ['an unknown unit', { value: 1, from: 'furlong' as Unit, to: 'mm' }, /from is furlong/],
  ])('refuses %s', (_, input, message) => {
    expect(() => convert(input)).toThrowError(message);
  });
});

describe('pitfall: rinse water shown as 0.0 mS/cm', () => {
  it.each([
    [0.0005, '0.00500', 'deionised water, 5 µS/cm'],
    [0.05, '0.500', 'tap water, 500 µS/cm'],
    [2, '20.0', 'an electrolyte, 20 mS/cm'],
  ])('%d S/m is %s mS/cm: %s', (value, text) => {
    for (const system of ['metric', 'us'] as const) {
      expect(toDisplay({ quantity: 'conductivity', value, system })).toMatchObject({ text, symbol: 'mS/cm' });
    }
  });
});

describe('pitfall: A/ft², A/dm², A/m² and mA/cm² mixed up', () => {
  // 100 mA/cm² = 10 A/dm² = 92.9 A/ft² = 1000 A/m²
  it.each<[Unit, number]>([
    ['APerM2', 1000],
    ['APerDm2', 10],
    ['mAPerCm2', 100],
    ['APerFt2', 92.90304],
  ])('1000 A/m² is %s %d', (to, expected) => {
    expect(convert({ value: 1000, from: 'APerM2', to })).toBe(expected);
  });

  it('a shop that types 12 meaning A/ft² stores 129 A/m², not 1200', () => {
    expect(fromDisplay({ quantity: 'currentDensity', value: 12, system: 'us' })).toBeCloseTo(129.17, 2);
    expect(fromDisplay({ quantity: 'currentDensity', value: 12, system: 'metric' })).toBe(1200);
  });
});

describe('quantities', () => {
  it.each(QUANTITY_NAMES)('%s is stored and shown in one dimension', (name) => {
    const { stored, metric, us } = QUANTITIES[name];
    expect(UNITS[metric.unit].dimension).toBe(UNITS[stored].dimension);
    expect(UNITS[us.unit].dimension).toBe(UNITS[stored].dimension);
  });

  it.each([
    ['area', 42_000, 'metric', '4.20', 'dm²'],
    ['area', 42_000, 'us', '0.452', 'ft²'],
    ['area', 420, 'metric', '0.0420', 'dm²'],
    ['temperature', 60, 'us', '140.0', '°F'],
    ['temperatureRise', 5, 'us', '9.0', '°F'],
    ['concentration', 180, 'us', '24.03', 'oz/gal'],
    ['volume', 400, 'us', '105.67', 'gal'],
    ['coatingThickness', 12.7, 'us', '0.500', 'mil'],
    ['temperature', -0.01, 'metric', '0.0', '°C'],
    ['area', 0, 'metric', '0.00', 'dm²'],
    ['area', 0.0001, 'metric', '0.000000', 'dm²'],
    ['massFraction', 0.5, 'us', '50.00', 'wt%'],
    ['duration', 840, 'metric', '14.0', 'min'],
    ['consumption', 120, 'metric', '1.20', 'g/dm²'],
    ['consumption', 69_900, 'metric', '699', 'g/dm²'],
  ] as const)('%s %d in %s reads %s %s', (...[quantity, value, system, text, symbol]) => {
    expect(toDisplay({ quantity, value, system })).toMatchObject({ text, symbol });
  });

  it('refuses an unknown quantity or system', () => {
    expect(() => displayUnit({ quantity: 'colour' as 'area', system: 'us' })).toThrowError(
      /quantity is colour/,
    );
    expect(() => displayUnit({ quantity: 'area', system: 'imperial' as 'us' })).toThrowError(
      /system is imperial/,
    );
  });
});

describe('round trips', () => {
  const quantity = fc.constantFrom(...QUANTITY_NAMES);
  const system = fc.constantFrom('metric' as const, 'us' as const);

  it('what was shown and not changed gives the stored value back, bit for bit', () => {
    fc.assert(
      fc.property(quantity, system, fc.double({ min: -270, max: 1e9, noNaN: true }), (name, side, stored) => {
        const shown = toDisplay({ quantity: name, value: stored, system: side });
        for (const value of [shown.value, Number(shown.text)]) {
          expect(fromDisplay({ quantity: name, value, system: side, stored })).toBe(stored);
        }
      }),
    );
  });

  it('values of nine significant figures survive a change of units without help', () => {
    const nineFigures = fc.integer({ min: 1, max: 999_999_999 }).map((n) => n / 1e6);
    fc.assert(
      fc.property(quantity, system, nineFigures, (name, side, stored) => {
        const { value } = toDisplay({ quantity: name, value: stored, system: side });
        expect(fromDisplay({ quantity: name, value, system: side })).toBe(stored);
      }),
    );
  });

  it('a changed value is taken', () => {
    expect(fromDisplay({ quantity: 'area', value: 1, system: 'us', stored: 42_000 })).toBe(92903.04);
    expect(fromDisplay({ quantity: 'temperature', value: 32, system: 'us', stored: 20 })).toBe(0);
  });
});
