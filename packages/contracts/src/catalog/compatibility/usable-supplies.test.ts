import { expect, it } from 'vitest';
import { supplyFaults, usableSupplies } from './usable-supplies.ts';
import { tankFitStops } from './tank-fit.ts';

const to110V = {
  position: 3,
  contents: 'mild-salt' as const,
  electrical: {
    mode: 'voltage' as const,
    programme: [{ kind: 'ramp' as const, to: 110, seconds: 30 }],
    peakCurrentDensityAPerM2: 200,
    steadyCurrentDensityAPerM2: 20,
    timeConstantS: 5,
    averageVoltageV: 80,
    chargeCPerM2: null,
  },
};
const rinse = { position: 4, contents: 'water-rinse' as const, electrical: null };
const weak = { code: 'weak', maxVoltageV: 10, maxCurrentA: 300, contents: ['mild-salt' as const] };
const strong = { ...weak, code: 'strong', maxVoltageV: 120, maxCurrentA: 40 };
const stronger = { ...strong, code: 'stronger', maxCurrentA: 90 };
const elsewhere = { ...strong, code: 'elsewhere', contents: ['water-rinse' as const] };

it('never takes a supply that cannot give the voltage, whatever its current', () => {
  const usable = usableSupplies([weak, strong, elsewhere, stronger], [to110V, rinse]);
  expect(usable.map(({ code }) => code)).toEqual(['stronger', 'strong']);
  expect(supplyFaults(weak, [to110V])).toEqual(['gives at most 10 V; step 3 needs 110 V']);
  expect(supplyFaults(elsewhere, [to110V])).toEqual(['is not connected to a tank for step 3']);
});

it('takes none for a route without current', () => {
  expect(usableSupplies([strong], [rinse])).toEqual([]);
});

it('a rack that goes into no tank of a step is stopped there; one tank that takes it is enough', () => {
  const tank = {
    contents: 'water-rinse' as const,
    insideLengthMm: 800,
    insideWidthMm: 500,
    insideDepthMm: 700,
  };
  const rack = { windowWidthMm: 900, windowHeightMm: 600 };
  const stops = (...lengths: number[]) =>
    tankFitStops({
      rack,
      steps: [to110V, rinse],
      tanks: lengths.map((insideLengthMm, index) => ({ ...tank, insideLengthMm, code: `T${index}` })),
    });
  expect(stops(800)).toEqual([
    { position: 4, why: 'T0 is 800 mm long inside, the rack’s window 900 mm wide' },
  ]);
  expect(stops(800, 950)).toEqual([]);
  expect(stops()).toEqual([]);
});
