import { describe, expect, it } from 'vitest';
import { labFault, screenFault } from './colour-faults.ts';

describe('a colour that is typed', () => {
  it.each([
    [{ L: null, a: null, b: null }, null],
    [{ L: 42, a: 9, b: -42 }, null],
    [{ L: 42, a: null, b: -10 }, 'a* is missing: a colour is all three, or none of them.'],
    [{ L: null, a: 1, b: null }, 'L* and b* are missing: a colour is all three, or none of them.'],
    [{ L: 101, a: 0, b: 0 }, 'No colour has that: L* is 0 to 100, a* and b* are −200 to 200.'],
    [{ L: 50, a: 0, b: -201 }, 'No colour has that: L* is 0 to 100, a* and b* are −200 to 200.'],
  ])('%j says %s', (typed, words) => {
    expect(labFault(typed)).toBe(words);
  });
});

describe('a patch on a screen', () => {
  it('is the colour itself where a screen can show it', () => {
    expect(screenFault({ L: 42.9, a: 9.1, b: -42.1 })).toBeNull();
  });

  // Pure green of a screen is L* 87.7, a* -86.2, b* 83.2 (IEC 61966-2-1): more of it is no longer there.
  it('says how far it is off where it cannot', () => {
    expect(screenFault({ L: 87.7, a: -120, b: 83.2 })).toMatch(
      /^A screen cannot show it: this patch is ΔE₀₀ \d+\.\d off\.$/,
    );
  });
});
