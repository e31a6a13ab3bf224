import { type SystemOfUnits, toDisplay } from '@huelot/calc';
import { ComponentUnit } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { quantityOf } from '$lib/features/lab/result-text.ts';
import { componentScale } from './plot-model.ts';

const systems: SystemOfUnits[] = ['metric', 'us'];
it.each(ComponentUnit.options.flatMap((unit) => systems.map((system) => ({ unit, system }))))(
  'draws what it writes: $unit, $system',
  ({ unit, system }) => {
    const quantity = quantityOf(unit);
    for (const value of [0, 0.4912, 17.3]) {
      const shown = quantity ? toDisplay({ quantity, value, system }).value : value;
      expect(componentScale({ unit, system }).inUnit(value)).toBeCloseTo(shown, 10);
    }
  },
);

it('writes a small drift to three figures', () =>
  expect(componentScale({ unit: 'massFraction', system: 'metric' }).fine(0.0000123456)).toBe(
    '0.00123\u00a0wt%',
  ));
