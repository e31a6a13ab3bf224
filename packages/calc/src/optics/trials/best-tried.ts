import { processMap } from './process-map.ts';
import { isColourOutcome } from './trial-outcomes.ts';
import {
  asSetting,
  asTrial,
  checkStrengthTrials,
  checkTarget,
  type StrengthTrial,
  type TankSetting,
} from './strength-trial.ts';

/**
 * The setting among trials with a colour that the others with one support most: where a set of trials has most to say when
 * nobody asks for a setting. Null where no trial has a colour and a voltage; a fault has no colour.
 *
 * `trials` and `target` as for {@link colourDrift}: one unit of strength, the target above 0.
 * Source: the support of {@link processMap} among them at the target strength.
 * Errors: `unknown` for an outcome; `not-finite`, `out-of-range` for any figure, named by its trial.
 *
 * @example
 * const trial = (voltageV: number) => ({ temperatureC: 50, voltageV, timeS: 480, strength: 50, outcome: 'interference' as const, lab: { L: 40, a: 5, b: -30 } });
 * bestTriedSetting({ trials: [trial(1.6), trial(2.2), trial(2.3), trial(2.4)], target: 50 }) // { temperatureC: 50, voltageV: 2.3, timeS: 480 }
 */
export function bestTriedSetting(input: {
  trials: readonly StrengthTrial[];
  target: number;
}): TankSetting | null {
  const target = checkTarget(input.target);
  checkStrengthTrials(input.trials);
  const coloured = input.trials
    .map((trial) => asTrial(trial, target))
    .filter(({ lab, outcome }) => lab !== undefined && (outcome === 'none' || isColourOutcome(outcome)));
  const settings = coloured.flatMap(({ temperatureC, voltageV, timeS }) => {
    if (voltageV === undefined) return [];
    const at = { temperatureC, voltageV, timeS };
    const setting = asSetting(at, { strength: target, target });
    return [{ at, support: processMap({ trials: coloured, at: setting }).support }];
  });
  const [best] = settings.toSorted((one, other) => other.support - one.support);
  return best?.at ?? null;
}
