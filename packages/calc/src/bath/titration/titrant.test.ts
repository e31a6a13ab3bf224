import { describe, expect, it } from 'vitest';
import { normalityFrom } from './titrant.ts';

describe('titrant', () => {
  it('is refused by name when unknown or impossible', () => {
    expect(normalityFrom({ reagent: 'HCl', molPerLitre: 0.5 })).toBe(0.5);
    expect(() => normalityFrom({ reagent: 'H3BO3' as 'HCl', molPerLitre: 1 })).toThrow('reagent');
    expect(() => normalityFrom({ reagent: 'HCl', molPerLitre: 0 })).toThrow('molPerLitre');
  });
});
