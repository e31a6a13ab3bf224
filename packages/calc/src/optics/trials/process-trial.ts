import { checkName, checkNumber } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { checkLab } from '../../colour/lab.ts';
import { type TrialOutcome, trialOutcomes } from './trial-outcomes.ts';

/** What was set. A family of work leaves out what it has not: a dye no voltage, a colour bath no coating. */
export interface ProcessSetting {
  temperatureC: number;
  /** Across the cell, as the shop reads it. */
  voltageV?: number | undefined;
  timeS: number;
  /** Strength of the bath. */
  massFraction: number;
  /** Of the anodic coating that is dyed. */
  coatingThicknessUm?: number | undefined;
  pH?: number | undefined;
}

export interface ProcessTrial extends ProcessSetting {
  outcome: TrialOutcome;
  /** D65, 2 degree, specular included; left out where not measured. */
  lab?: Lab;
  thicknessNm?: number;
}

const optional = <K extends 'voltageV' | 'coatingThicknessUm' | 'pH'>(
  key: K,
  { argument, setting, max }: { argument: string; setting: ProcessSetting; max: number },
): Partial<Record<K, number>> => {
  const value = setting[key];
  if (value === undefined) return {};
  return { [key]: checkNumber(`${argument}.${key}`, value, { min: 0, max }) } as Record<K, number>;
};

export const checkSetting = (argument: string, setting: ProcessSetting): ProcessSetting => ({
  temperatureC: checkNumber(`${argument}.temperatureC`, setting.temperatureC, { min: -20, max: 300 }),
  ...optional('voltageV', { argument, setting, max: 1000 }),
  timeS: checkNumber(`${argument}.timeS`, setting.timeS, { above: 0, max: 1e6 }),
  massFraction: checkNumber(`${argument}.massFraction`, setting.massFraction, { min: 0, max: 1 }),
  ...optional('coatingThicknessUm', { argument, setting, max: 1000 }),
  ...optional('pH', { argument, setting, max: 14 }),
});

export const checkTrial = (argument: string, trial: ProcessTrial): ProcessTrial => ({
  ...checkSetting(argument, trial),
  outcome: checkName(`${argument}.outcome`, trial.outcome, trialOutcomes),
  ...(trial.lab ? { lab: checkLab(`${argument}.lab`, trial.lab) } : {}),
  ...(trial.thicknessNm === undefined
    ? {}
    : { thicknessNm: checkNumber(`${argument}.thicknessNm`, trial.thicknessNm, { min: 0, max: 1e6 }) }),
});
