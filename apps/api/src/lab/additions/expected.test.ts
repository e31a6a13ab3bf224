import { gramsPerLitreFrom } from '@huelot/calc';
import type { AnalysisResult, BathSetup } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { strengthFound } from './expected.ts';

const setup = { solute: 'H2SO4' } as BathSetup;
/** 180 g/L of free acid beside 5.6 g/L of aluminium: as a share of the denser bath it is 15.71 %, not 16.17 %. */
const found: AnalysisResult = {
  ...{ analysisId: 1, analysisNumber: 'A-00001', sampledAt: '2026-11-02T08:00:00.000Z' },
  ...{ component: 'H2SO4', name: 'free sulfuric acid', unit: 'gramsPerLitre', referenceTemperatureC: 20 },
  ...{ value: 180, standardUncertainty: 0.3, massFraction: 0.1571, gramsPerLitre: 180, spread: null },
  limits: { target: 180, low: 170, high: 195, stopLow: null, stopHigh: null },
  state: 'in-range',
};

test('a bath at its target in g/L is planned from as being there, however dense dissolved metal makes it', () => {
  const massFraction = strengthFound(setup, [found])?.strength.massFraction ?? 0;
  const { gramsPerLitre } = gramsPerLitreFrom({ solute: 'H2SO4', massFraction, temperatureC: 20 });
  expect(gramsPerLitre).toBeCloseTo(180, 6);
});

test('a share that was found counts where the bath is watched in shares', () => {
  const share = { ...found, unit: 'massFraction' as const, referenceTemperatureC: null, value: 0.1571 };
  expect(strengthFound(setup, [share])?.strength.massFraction).toBe(0.1571);
});
