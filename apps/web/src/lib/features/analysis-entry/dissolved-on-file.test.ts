import { expect, test } from 'vitest';
import { dissolvedOnFile } from './dissolved-on-file.ts';

const result = (component: string, value: number) => ({
  component,
  unit: 'gramsPerLitre' as const,
  value,
  gramsPerLitre: value,
  analysisNumber: 'A-00107',
});

test('“nobody knows” stood beside aluminium that was on file: the float said 203.6 g/L for 181', () => {
  const { salts, numbers } = dissolvedOnFile([result('H2SO4', 181), result('Al', 6.48)], 'H2SO4');
  // 6.48 g/L of aluminium are 0.12008 mol/L of the sulfate, 41.09 g/L.
  expect(salts).toEqual([{ solute: 'Al2_SO4_3', gramsPerLitre: 41.09 }]);
  expect(numbers).toEqual(['A-00107']);
});

test('carbonate of a caustic bath is offered too, and aluminium outside sulfuric acid is not', () => {
  expect(dissolvedOnFile([result('K2CO3', 6.9), result('Al', 2)], 'KOH').salts).toEqual([
    { solute: 'K2CO3', gramsPerLitre: 6.9 },
  ]);
  expect(dissolvedOnFile([result('KOH', 700)], 'KOH').salts).toEqual([]);
});
