import type { AdditionSheet } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { gateOf, planDoubts, wantsSecondAnalysis } from './plan-doubts.ts';
import { handStep } from './plan-form.ts';

/** Only what is read here: 200 L of caustic at 60 °C in a tank of up to 95 °C. */
const sheet = {
  setup: { solute: 'KOH', fullVolumeL: 200, freeboardL: 20, workingTemperatureC: 60 },
  strengthAnalyses: [{ number: 'A-00012', value: 0.071, standardUncertainty: 0.0025, massFraction: 0.071 }],
  tankLimits: { minC: 40, maxC: 95, brimL: 260 },
} as unknown as AdditionSheet;
const stock = (kg: number) => ({ ...handStep('add-stock'), kg });
const plan = { sheet, kind: 'chemical', volumeL: 192, bathKg: 280, startMassFraction: 0.071 } as const;

describe('a plan of 169 kg while it is typed', () => {
  it('looked like any other until it was sent', () => {
    expect(wantsSecondAnalysis({ ...plan, steps: [stock(169)] })).toMatch(
      /^169 kg is 60 % of the bath.*there is only A-00012 since/,
    );
    expect(planDoubts({ ...plan, steps: [stock(169)] })).toEqual([
      'the bath would stand at 268 L, and the tank has room for 220 L',
    ]);
  });
  it('is not asked about a small one, nor about a make-up', () => {
    expect(wantsSecondAnalysis({ ...plan, steps: [stock(16.5)] })).toBeNull();
    expect(wantsSecondAnalysis({ ...plan, kind: 'make-up', steps: [stock(169)] })).toBeNull();
    expect(planDoubts({ ...plan, steps: [stock(16.5)] })).toEqual([]);
  });
});

describe('one portion after another without a look at the thermometer', () => {
  const step = { riseK: 20, portions: 4 };
  it('has a temperature that it waits for, and one that it stops at', () => {
    expect(gateOf(step, { sheet })).toEqual({ resumeBelowC: 65, stopAboveC: 90 });
    expect(gateOf(step, { sheet, workingC: 88 })).toEqual({ resumeBelowC: 90, stopAboveC: 90 });
  });
  it('has none where nothing warms to speak of', () => {
    expect(gateOf({ riseK: 0.4, portions: 1 }, { sheet })).toBeNull();
    expect(gateOf({ riseK: null, portions: 1 }, { sheet })).toBeNull();
  });
});
