import { outcomeKind, processMap, type ProcessTrial } from '@huelot/calc';
import { CouponOutcome, FactorFigure, trialFactors, type TrialFactor } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';

const at: ProcessTrial = {
  ...{ temperatureC: 50, voltageV: 2.2, timeS: 480, massFraction: 0.5, coatingThicknessUm: 12, pH: 5.5 },
  outcome: 'dyed',
};
const mapped = ['coatingThicknessUm', 'temperatureC', 'voltageV', 'timeS', 'pH'] as const;
const isTaken = (factor: TrialFactor, value: number) => {
  try {
    processMap({ trials: [{ ...at, [factor]: value }], at });
    return true;
  } catch {
    return false;
  }
};

describe('the table of factors', () => {
  it.each(mapped)('let a %s through that a process map refuses', (factor) => {
    const { min = 1e-6, max }: { min?: number; max: number } = trialFactors[factor];
    for (const [value, allowed] of [
      [min, true],
      [max, true],
      [min - 1, false],
      [max + 1, false],
    ] as const) {
      expect(FactorFigure(factor).safeParse(value).success, `${factor} ${value}`).toBe(allowed);
      expect(isTaken(factor, value), `${factor} ${value}`).toBe(allowed);
    }
  });

  it('had an outcome that no map knows', () => {
    for (const outcome of CouponOutcome.options)
      expect(['nothing', 'colour', 'fault']).toContain(outcomeKind(outcome));
  });
});
