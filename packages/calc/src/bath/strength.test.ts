import { describe, expect, it } from 'vitest';
import { a1 } from '../../reference/bath/requests.ts';
import { CalcError } from '../errors.ts';
import { planAddition } from './addition/plan-addition.ts';
import { conductivity } from './conductivity.ts';
import { concentrationFromHydrometer } from './titration/hydrometer.ts';
import { dragOut } from './drag-out.ts';
import { topUpEvaporation } from './evaporation-top-up.ts';

const flakes = { solute: 'KOH', massFraction: 0.9, temperatureC: 60 } as const;
const only = 'allowed: at least 0 and at most 0.85';

describe('90 wt% KOH is flake, not a liquid', () => {
  it.each([
    ['massFraction', () => conductivity(flakes)],
    ['massFraction', () => dragOut({ ...flakes, areaM2: 1, filmMlPerM2: 100 })],
    [
      'massFractionWhenFull',
      () => topUpEvaporation({ ...flakes, massFractionWhenFull: 0.9, fullVolumeL: 500, volumeL: 490 }),
    ],
    ['massFraction', () => planAddition({ ...a1, massFraction: 0.9 })],
    ['targetMassFraction', () => planAddition({ ...a1, targetMassFraction: 0.9 })],
    ['stock.massFraction', () => planAddition({ ...a1, stock: { form: 'liquid', massFraction: 0.9 } })],
  ])('refused as %s', (argument, call) => {
    expect(call).toThrow(CalcError);
    expect(call).toThrow(`${argument} is 0.9; ${only}`);
  });

  it('is weighed in as a solid', () => {
    const plan = planAddition({ ...a1, stock: { form: 'solid', massFraction: 0.9 } });
    expect(plan.possible).toBe(true);
  });

  it('no float floats in it', () => {
    const read = () =>
      concentrationFromHydrometer({
        solute: 'KOH',
        scale: 'g/mL',
        reading: 2.07,
        sampleTemperatureC: 20,
        dissolved: [],
      });
    expect(read).toThrow('allowed: a density between 998.2 and 1988.9 kg/m3 at 20 °C');
  });

  it.each([
    ['stock.form', { form: 'paste' as 'solid', massFraction: 0.9 }],
    ['stock.temperatureC', { form: 'solid', massFraction: 0.9, temperatureC: NaN }],
    ['stock.densityKgPerM3', { form: 'solid', massFraction: 0.9, densityKgPerM3: 1.5 }],
  ] as const)('a stock is checked whatever its form: %s', (argument, stock) => {
    expect(() => planAddition({ ...a1, stock })).toThrow(argument);
  });
});
