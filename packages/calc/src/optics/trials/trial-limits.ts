import { ciede2000 } from '../../colour/delta-e.ts';
import { checkNumber } from '../../check.ts';
import { distanceBetween, processMap, REACH, SCALE } from './process-map.ts';
import { checkSetting, type ProcessSetting, type ProcessTrial } from './process-trial.ts';
import { isColourOutcome } from './trial-outcomes.ts';
import {
  asSetting,
  asTrial,
  checkStrengthTrials,
  checkTarget,
  type StrengthTrial,
  type TankSetting,
} from './strength-trial.ts';

/** A range of one setting. */
export interface SettingLimits {
  low: number;
  high: number;
}
export type TrialLimits = Record<keyof TankSetting, SettingLimits | null>;

/** Points looked at between the target and the last value that was tried. */
const POINTS = 20;
/** Settings are typed to the hundredth; a limit is not narrower for the last bits of a sum. */
const SLACK = 1e-6;

/**
 * The limits of each setting that trials support: how far it may go from the target before the colour has changed by more
 * than a tolerance, the others staying where they are. Never beyond what was tried.
 *
 * `trials` of one alloy and preparation; `at` the target, temperature -20 to 300 °C, voltage 0 to 1000 V, time above 0 s;
 * `strength` of the bath in the unit of the trials, above 0; `toleranceDeltaE` the CIEDE2000 difference allowed, above 0 to
 * 100. Null for a setting that the trials near the target do not vary; all null where nothing was tried near it, where
 * nothing or a fault came out, or where no colour was measured.
 * Source: colours by {@link processMap}; the difference by CIEDE2000. The rule is the house's own.
 * Errors: `unknown` for an outcome; `not-finite`, `out-of-range` for any figure, named by its trial.
 *
 * @example
 * const trial = (voltageV: number) => ({ temperatureC: 21, voltageV, timeS: 80, strength: 30, outcome: 'interference' as const, lab: { L: 40, a: 5, b: -30 + 4 * (voltageV - 28) } });
 * const at = { temperatureC: 21, voltageV: 28, timeS: 80 };
 * trialLimits({ trials: [trial(27.6), trial(28), trial(28.4)], at, strength: 30, toleranceDeltaE: 3 }).voltageV // { low: 27.6, high: 28.4 }
 */
export function trialLimits(input: {
  trials: readonly StrengthTrial[];
  at: TankSetting;
  strength: number;
  toleranceDeltaE: number;
}): TrialLimits {
  const strength = checkTarget(input.strength);
  const tolerance = checkNumber('toleranceDeltaE', input.toleranceDeltaE, { above: 0, max: 100 });
  checkStrengthTrials(input.trials);
  const trials = input.trials.map((trial) => asTrial(trial, strength));
  const at = checkSetting('at', asSetting(input.at, { strength, target: strength }));
  const target = processMap({ trials, at });
  if (target.class === 'untested' || !isColourOutcome(target.class) || target.lab === null) return NONE;
  const { class: outcome, lab } = target;
  const alike = trials.filter((trial) => trial.outcome === outcome && trial.lab !== undefined);

  const holds = (setting: ProcessSetting): boolean => {
    const point = processMap({ trials, at: setting });
    return point.class === outcome && point.lab !== null && ciede2000(lab, point.lab) <= tolerance;
  };
  const limitsOf = (key: keyof TankSetting): SettingLimits | null => {
    const tried = besideIn(key, { trials: alike, at });
    const [least, most] = [Math.min(...tried), Math.max(...tried)];
    if (tried.length === 0 || most - least < SLACK * SCALE_OF[key]) return null;
    const from = input.at[key];
    if (from < least - SLACK || from > most + SLACK) return null;
    return {
      low: lastThatHolds(from, least, (value) => holds({ ...at, [key]: value })),
      high: lastThatHolds(from, most, (value) => holds({ ...at, [key]: value })),
    };
  };
  return {
    temperatureC: limitsOf('temperatureC'),
    voltageV: limitsOf('voltageV'),
    timeS: limitsOf('timeS'),
  };
}

const NONE: TrialLimits = { temperatureC: null, voltageV: null, timeS: null };
const SCALE_OF: Record<keyof TankSetting, number> = {
  temperatureC: SCALE.temperatureC,
  voltageV: SCALE.voltageV,
  timeS: 1,
};

/** The values of one setting that were tried where the other settings were near the target. */
function besideIn(
  key: keyof TankSetting,
  { trials, at }: { trials: readonly ProcessTrial[]; at: ProcessSetting },
): number[] {
  return trials
    .filter((trial) => distanceBetween({ ...trial, [key]: at[key] }, at) <= REACH)
    .filter((trial) => distanceBetween({ ...at, [key]: trial[key] }, at) <= 2 * REACH)
    .flatMap((trial) => trial[key] ?? []);
}

/** The farthest point on the way from the target to `end` up to which all points hold. */
function lastThatHolds(from: number, end: number, holds: (value: number) => boolean): number {
  let last = from;
  for (let point = 1; point <= POINTS; point += 1) {
    const value = point === POINTS ? end : from + ((end - from) * point) / POINTS;
    if (!holds(value)) break;
    last = value;
  }
  return last;
}
