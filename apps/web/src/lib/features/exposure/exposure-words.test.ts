import { describe, expect, it } from 'vitest';
import { dayOfTest, spanWords, surfaceWords, verdictWords } from './exposure-words.ts';

describe('the time to first corrosion', () => {
  it('is said no surer than the looks were', () => {
    expect(spanWords({ afterH: 72, byH: 120 })).toBe('between 72 h and 120 h (day 3 and day 5)');
    expect(spanWords({ afterH: 0, byH: 4.25 })).toBe('between 0 h and 4.3 h (day 0 and day 0.2)');
    expect(spanWords({ afterH: 240, byH: null })).toBe('not seen by 240 h');
    expect(spanWords({ afterH: 0, byH: null })).toBe('nobody has looked yet');
  });
});

it('a verdict has the rating beside it, and none where no area was seen', () => {
  expect(verdictWords({ verdict: 'corroded', defectAreaPercent: 2.5, rating: 5 })).toBe(
    'corroded area 2.5 %, rating 5',
  );
  expect(verdictWords({ verdict: 'first-corrosion', defectAreaPercent: null, rating: null })).toBe(
    'first corrosion',
  );
});

it('days of a test are counted over the change of the clocks', () => {
  expect(dayOfTest('2026-03-27', '2026-03-30')).toBe(3);
});

it('an oil is named with the film under it', () => {
  const oiled = { finish: 'coloured-and-oiled', film: 'black', protective: 'dewatering oil' } as const;
  expect(surfaceWords(oiled)).toBe('coloured and oiled: black, dewatering oil');
  expect(surfaceWords({ finish: 'bare', film: '', protective: '' })).toBe('bare');
});
