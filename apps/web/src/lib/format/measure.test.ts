import { describe, expect, it } from 'vitest';
import { readQuantity } from './quantity.ts';

const read = (text: string, system: 'metric' | 'us' = 'metric', quantity: 'length' | 'area' = 'length') =>
  readQuantity(text, { quantity, system, stored: null });

describe('a size that was refused because it was written as on the drawing', () => {
  // An inch is 25.4 mm and a foot 12 inches, exactly (NIST Handbook 44, appendix C).
  it.each([
    ['1/2 in', 12.7],
    ['1/2"', 12.7],
    ['3 1/4"', 82.55],
    ['3-1/4 in', 82.55],
    ['3¼"', 82.55],
    ['½ inch', 12.7],
    ['2 in', 50.8],
    ['0.25in', 6.35],
    [`5' 6 1/2"`, 1689.1],
    ['1 ft 2 in', 355.6],
    ['12 mm', 12],
    ['1,5 cm', 15],
    ['1 m', 1000],
    ['5 mil', 0.127],
  ])('%s is %d mm', (text, value) => {
    expect(read(text)).toEqual({ value });
    expect(read(text, 'us')).toEqual({ value });
  });

  it('takes a bare fraction in the unit of the field', () => {
    expect(read('3 1/4', 'us')).toEqual({ value: 82.55 });
    expect(read('1/2', 'metric')).toEqual({ value: 0.5 });
  });

  it('reads areas', () => {
    expect(read('2 ft²', 'metric', 'area').value).toBeCloseTo(185_806.08, 6);
    expect(read('2 sq in', 'metric', 'area')).toEqual({ value: 1290.32 });
    expect(read('25 cm2', 'us', 'area').value).toBeCloseTo(2500, 8);
  });

  it.each([['12 kg'], ['3 in²'], ['1/0 in'], ['1/2/3'], ['in'], ['2 in x 3 in'], ['1 in 2']])(
    'says what is wrong with %s instead of guessing',
    (text) => {
      const result = read(text);
      expect(result.value).toBeNull();
      expect(result.fault).toBeTypeOf('string');
    },
  );

  it('keeps asking about 1,000', () => {
    expect(read('1,000').fault).toMatch(/Write 1000/);
  });
});
