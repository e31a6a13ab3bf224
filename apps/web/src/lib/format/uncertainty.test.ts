import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { uncertainText, withUncertainty } from './uncertainty.ts';

describe('a value and its uncertainty', () => {
  // The first by JCGM 100:2008, 7.2.6: 10.057 62 Ω with 27 mΩ is written 10.058 Ω.
  it.each([
    [10.05762, 0.027, '10.058 ± 0.027'],
    [28.1, 0.229, '28.10 ± 0.23'],
    [743.37, 11.75, '743 ± 12'],
    [48.37, 0.0996, '48.37 ± 0.10'],
    [1234.5, 117, '1230 ± 120'],
    [12345, 99.6, '12\u202f350 ± 100'],
    [0.50123, 0.0014, '0.5012 ± 0.0014'],
    [1, 0.04, '1.000 ± 0.040'],
    [-3.14159, 0.05, '−3.142 ± 0.050'],
    [0, 0.0102, '0.000 ± 0.010'],
  ])('%d ± %d', (value, plusMinus, right) => {
    const pair = withUncertainty({ value, plusMinus });
    expect(`${pair?.figure} ± ${pair?.plusMinus}`).toBe(right);
  });

  it('is the value alone where nothing is uncertain', () => {
    expect(withUncertainty({ value: 5, plusMinus: 0 })).toBeNull();
    expect(withUncertainty({ value: 0.1, plusMinus: 1e-17 })).toBeNull();
    const certain = { quantity: 'mass', value: 28.104, plusMinus: 0, system: 'metric' } as const;
    expect(uncertainText(certain)).toBe('28.10\u00a0kg');
  });

  it('both stand in the unit of the person', () => {
    const kg = { quantity: 'mass', value: 28.104, plusMinus: 0.229 } as const;
    expect(uncertainText({ ...kg, system: 'metric' })).toBe('28.10\u00a0±\u00a00.23\u00a0kg');
    expect(uncertainText({ ...kg, system: 'us' })).toBe('61.96\u00a0±\u00a00.50\u00a0lb');
  });

  it('stand at the same place, with two figures of the uncertainty, within half of the last', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        (value, plusMinus) => {
          const pair = withUncertainty({ value, plusMinus });
          const plain = (text = '') => text.replaceAll('\u202f', '').replace('−', '-');
          const decimals = (text = '') => plain(text).split('.')[1]?.length ?? 0;
          expect(decimals(pair?.figure)).toBe(decimals(pair?.plusMinus));
          const digits = plain(pair?.plusMinus).replace('.', '').replace(/^0+/, '');
          expect(digits.replace(/0+$/, '').length).toBeLessThanOrEqual(2);
          const half = 0.0501 * plusMinus;
          expect(Math.abs(Number(plain(pair?.plusMinus)) - plusMinus)).toBeLessThanOrEqual(half);
          expect(Math.abs(Number(plain(pair?.figure)) - value)).toBeLessThanOrEqual(half + 1e-9);
        },
      ),
    );
  });
});
