import { expect, test } from 'vitest';
import { BaseMetal } from '../base-metals.ts';
import { partStops, rackStops, type RouteStepMetals } from './route-metals.ts';

const electrical: RouteStepMetals['electrical'] = {
  mode: 'voltage',
  programme: [{ kind: 'hold', to: 68, seconds: 60 }],
  peakCurrentDensityAPerM2: 200,
  steadyCurrentDensityAPerM2: 5,
  timeConstantS: null,
  averageVoltageV: 68,
  chargeCPerM2: null,
};
const steps: RouteStepMetals[] = [
  { position: 1, contents: 'alkaline-clean', electrical: null },
  { position: 2, contents: 'mild-salt', electrical },
];

test.each(['titanium', 'niobium', 'tantalum', 'zirconium'] as const)(
  '%s went into the current on a rack that dissolves there',
  (partMetal) => {
    for (const rackMetal of ['steel', 'stainless-steel', 'copper', 'zinc', 'nickel'] as const) {
      expect(rackStops({ rackMetal, partMetal, steps })).toMatchObject([{ position: 2 }]);
    }
    for (const rackMetal of ['titanium', 'aluminium'] as const) {
      expect(rackStops({ rackMetal, partMetal, steps })).toEqual([]);
    }
  },
);

test('a steel rack carries steel, and titanium where no current flows', () => {
  expect(rackStops({ rackMetal: 'steel', partMetal: 'steel', steps })).toEqual([]);
  expect(rackStops({ rackMetal: 'steel', partMetal: 'titanium', steps: steps.slice(0, 1) })).toEqual([]);
});

test('a bath that attacks the rack stops it, whatever the work is', () => {
  const caustic: RouteStepMetals[] = [{ position: 1, contents: 'hot-caustic', electrical: null }];
  for (const partMetal of BaseMetal.options) {
    expect(rackStops({ rackMetal: 'aluminium', partMetal, steps: caustic })).toMatchObject([{ position: 1 }]);
  }
  expect(partStops('aluminium', caustic)).toMatchObject([{ position: 1 }]);
});
