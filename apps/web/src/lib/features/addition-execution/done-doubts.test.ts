import type { AdditionSheet } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { handStep } from '../addition-plan/plan-form.ts';
import { doneDoubts } from './done-doubts.ts';

/** Only what is read here: 200 L of caustic at 60 °C in a tank of up to 95 °C. */
const sheet = {
  setup: { solute: 'KOH', fullVolumeL: 200, freeboardL: 20, workingTemperatureC: 60 },
  tankLimits: { minC: 40, maxC: 95, brimL: 260 },
} as unknown as AdditionSheet;

describe('one portion after another without a look at the thermometer', () => {
  const step = { riseK: 20, portions: 4 };
  it('is asked about when it was begun above that', () => {
    const steps = [{ ...handStep('add-stock'), kg: 16.5, ...step }];
    const values = { lines: [], temperatureBeforeC: 92, temperatureAfterC: 94, volumeBeforeL: 192 };
    expect(doneDoubts({ sheet, steps, values })).toEqual([
      'it was begun at 92 °C, and a portion may go in up to 90 °C',
    ]);
  });
});
