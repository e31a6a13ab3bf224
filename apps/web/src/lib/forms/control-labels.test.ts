import { describe, expect, it } from 'vitest';
import { valueInWords } from './control-labels.ts';

describe('a value as its field shows it', () => {
  it('is a figure in the units of the person: 48 inches are 1219.2 mm (NIST SP 811)', () => {
    const shown = (system: 'metric' | 'us') => valueInWords(1219.2, { quantity: 'equipmentLength', system });
    expect(shown('us')).toBe('48.0');
    expect(shown('metric')).toBe('1219');
  });

  it('is a choice by its name', () => {
    const choices = new Map([['mild-salt', 'mild salt electrolyte']]);
    expect(valueInWords('mild-salt', { choices, system: 'metric' })).toBe('mild salt electrolyte');
    expect(valueInWords(['mild-salt', 'dye'], { choices, system: 'metric' })).toBe(
      'mild salt electrolyte, dye',
    );
  });

  it.each([
    [null, '–'],
    ['', '–'],
    [true, 'yes'],
    [0, '0'],
    ['T4', 'T4'],
  ])('%j is %s', (value, words) => expect(valueInWords(value, { system: 'us' })).toBe(words));
});
