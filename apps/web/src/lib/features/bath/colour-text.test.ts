import { ColourGap } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { gapWords } from './colour-text.ts';

const bare = { alloy: null, baseMetals: ['niobium' as const], series: null, support: null };
const of = { contents: 'mild-salt' as const, inUnit: (strength: number) => `${strength} g/L` };

describe('why a colour is untested', () => {
  it.each(ColourGap.options)('%s is said in words, with what to do', (gap) => {
    const { why, todo } = gapWords({ ...bare, gap }, of);
    expect(why).toMatch(/^[A-Z].*\.$/);
    expect(todo).toMatch(/^[A-Z].*\.$/);
  });

  it('names the metal and the bath that no coupon was made of', () => {
    expect(gapWords({ ...bare, gap: 'no-series' }, of).why).toBe(
      'No approved coupons of niobium in mild salt electrolyte.',
    );
  });

  it('says that coupons of another alloy do not count, where one was ordered', () => {
    expect(gapWords({ ...bare, alloy: 'Niobium, commercial', gap: 'no-series' }, of).why).toBe(
      'No approved coupons of this alloy in mild salt electrolyte; another may take another colour.',
    );
  });

  it('names the strengths that were tried', () => {
    const support = { near: 5, coloured: 5, strengths: { low: 26, high: 32 }, nearest: null };
    expect(gapWords({ ...bare, support, gap: 'outside-tried' }, of).why).toContain('26 g/L to 32 g/L');
  });
});
