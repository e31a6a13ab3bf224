import { checkName, checkNumber } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { checkLab } from '../../colour/lab.ts';

export interface ProcessSetting {
  temperatureC: number;
  /** Across the cell, as the shop reads it. */
  voltageV: number;
  timeS: number;
  /** Strength of the bath. */
  massFraction: number;
}

/** What a trial showed: no film worth having, interference colours, or a dark film (black, brown, grey). */
export type TrialOutcome = 'none' | 'interference' | 'dark';

export const trialOutcomes: readonly TrialOutcome[] = ['none', 'interference', 'dark'];

export interface ProcessTrial extends ProcessSetting {
  outcome: TrialOutcome;
  /** D65, 2 degree, specular included; left out where not measured. */
  lab?: Lab;
  thicknessNm?: number;
}

export const checkSetting = (argument: string, setting: ProcessSetting): ProcessSetting => ({
  temperatureC: checkNumber(`${argument}.temperatureC`, setting.temperatureC, { min: -20, max: 300 }),
  voltageV: checkNumber(`${argument}.voltageV`, setting.voltageV, { min: 0, max: 1000 }),
  timeS: checkNumber(`${argument}.timeS`, setting.timeS, { above: 0, max: 1e6 }),
  massFraction: checkNumber(`${argument}.massFraction`, setting.massFraction, { min: 0, max: 1 }),
});

export const checkTrial = (argument: string, trial: ProcessTrial): ProcessTrial => ({
  ...checkSetting(argument, trial),
  outcome: checkName(`${argument}.outcome`, trial.outcome, trialOutcomes),
  ...(trial.lab ? { lab: checkLab(`${argument}.lab`, trial.lab) } : {}),
  ...(trial.thicknessNm === undefined
    ? {}
    : { thicknessNm: checkNumber(`${argument}.thicknessNm`, trial.thicknessNm, { min: 0, max: 1e6 }) }),
});
