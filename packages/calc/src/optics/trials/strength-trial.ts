import { checkNumber } from '../../check.ts';
import type { ProcessSetting, ProcessTrial } from './process-trial.ts';

/** A trial whose bath strength is stated in the unit that the bath is watched in, whichever that is. */
export type StrengthTrial = Omit<ProcessTrial, 'massFraction' | 'thicknessNm'> & { strength: number };

/** What is set at a tank that colours by current, whatever the bath holds. */
export type TankSetting = Pick<ProcessSetting, 'temperatureC' | 'timeS'> & { voltageV: number };

/** A process map counts 5 % of mass as one step, and was made for a bath of 50 %: a tenth of the strength. */
const MAPPED_STRENGTH = 0.5;

/** The strength that a process map measures distance by. Beyond twice the target all is equally far away. */
const mapped = (strength: number, target: number): number =>
  Math.min(1, (MAPPED_STRENGTH * strength) / target);

export const checkTarget = (target: number): number => checkNumber('target', target, { above: 0, max: 1e6 });
export const checkStrength = (argument: string, strength: number): number =>
  checkNumber(argument, strength, { min: 0, max: 1e6 });

export const asSetting = (
  at: Omit<ProcessSetting, 'massFraction'>,
  { strength, target }: { strength: number; target: number },
): ProcessSetting => ({ ...at, massFraction: mapped(strength, target) });

export const checkStrengthTrials = (trials: readonly StrengthTrial[]): void =>
  trials.forEach(({ strength }, index) => checkStrength(`trials[${index}].strength`, strength));

export const asTrial = ({ strength, ...trial }: StrengthTrial, target: number): ProcessTrial => ({
  ...trial,
  massFraction: mapped(strength, target),
});
