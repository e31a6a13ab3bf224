import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { checkSetting, checkTrial, type ProcessSetting, type ProcessTrial } from './process-trial.ts';
import { commonOutcomes, isColourOutcome, type TrialOutcome, trialOutcomes } from './trial-outcomes.ts';

export interface ProcessMapPoint {
  class: TrialOutcome | 'untested';
  /** Of the common outcomes, and of whatever else the trials showed; sum to 1. Null where untested. */
  probabilities: Partial<Record<TrialOutcome, number>> | null;
  /**
   * Mean colour of the trials of the class nearby, and their weighted root mean square dE00 from it. Null where the class
   * is a fault: a powdery or spotted surface has no colour to aim at.
   */
  lab: Lab | null;
  spreadDeltaE: number | null;
  thicknessNm: number | null;
  /**
   * The trial most like the setting; distance 1 is 10 °C, or 0.4 V, or twice the time, or 5 % of strength, or 5 µm of
   * coating, or half a pH.
   */
  nearest: { index: number; distance: number } | null;
  /** How many trials at this very setting the trials around are worth. */
  support: number;
  flags: string[];
}

/** Differences of setting that shift what comes out by about as much (common practice, no source). */
export const SCALE = {
  temperatureC: 10,
  voltageV: 0.4,
  doublings: 1,
  massFraction: 0.05,
  coatingThicknessUm: 5,
  pH: 0.5,
};
/** Further than this from every trial nothing is said. */
export const REACH = 1.25;
/** Distance over which a trial's weight falls to 60 %. */
const BANDWIDTH = 0.7;
export const weightAt = (distance: number): number => Math.exp(-((distance / BANDWIDTH) ** 2) / 2);
/** Weight of not knowing: what a lone trial must outweigh. */
const PRIOR = 0.5;
/** Less likely than this, the trials around disagree. */
export const LIKELY = 0.6;

/**
 * What a setting of temperature, voltage, time and strength is likely to give, from trials: for families such
 * as steel in hot caustic or dyed aluminium, where no simple law holds. Answers only near trials, otherwise "untested".
 *
 * `trials` of one alloy and preparation, with outcome and, where measured, CIELAB (D65, 2 degree) and
 * thickness; `at` the setting asked for. Temperature -20 to 300 °C, voltage 0 to 1000 V, time above 0 s, mass
 * fraction 0 to 1, coating 0 to 1000 µm, pH 0 to 14. A trial that states a voltage, a coating or a pH where the setting
 * asked for states none, or the other way round, says nothing of it. Every trial speaks with a weight that falls off with its distance; probabilities start
 * from even odds, so that one trial is no certainty; the colour is the mean over trials of the likeliest
 * class.
 * Source: kernel regression (E. A. Nadaraya 1964; G. S. Watson 1964); the scales are common practice, no
 * source.
 * Errors: `unknown` for an outcome; `not-finite`, `out-of-range` for any figure, named by its trial.
 *
 * @example
 * const at = { temperatureC: 52, voltageV: 2.2, timeS: 240, massFraction: 0.5 };
 * const classAt = (temperatureC: number) => processMap({ trials: steelTrials, at: { ...at, temperatureC } }).class;
 * [30, 52, 90, 150].map(classAt) // ['none', 'interference', 'dark', 'untested']
 */
export function processMap(input: { trials: readonly ProcessTrial[]; at: ProcessSetting }): ProcessMapPoint {
  const at = checkSetting('at', input.at);
  const near = input.trials.map((trial, index) => {
    const checked = checkTrial(`trials[${index}]`, trial);
    const distance = distanceBetween(checked, at);
    return { ...checked, index, distance, weight: weightAt(distance) };
  });
  const [closest] = near.toSorted((a, b) => a.distance - b.distance);
  const nearest =
    closest && closest.distance < Infinity ? { index: closest.index, distance: closest.distance } : null;
  const support = total(near);
  if (!nearest || nearest.distance > REACH) {
    return { ...UNTESTED, nearest, support, flags: ['untested: no trial near this setting'] };
  }

  const told = trialOutcomes.filter(
    (outcome) => commonOutcomes.includes(outcome) || near.some((trial) => trial.outcome === outcome),
  );
  const shares = told.map((outcome) => ({
    outcome,
    share:
      (total(near.filter((trial) => trial.outcome === outcome)) + PRIOR / told.length) / (support + PRIOR),
  }));
  const { outcome: likeliest, share } = shares.reduce((best, one) => (one.share > best.share ? one : best));
  const alike = near.filter((trial) => trial.outcome === likeliest);
  const coloured = likeliest === 'none' || isColourOutcome(likeliest) ? alike : [];
  const colour = meanColour(coloured.flatMap(({ lab, weight }) => (lab ? { lab, weight } : [])));
  return {
    class: likeliest,
    probabilities: Object.fromEntries(shares.map((one) => [one.outcome, one.share])),
    ...colour,
    thicknessNm: meanThickness(alike),
    nearest,
    support,
    flags: [
      ...(share < LIKELY ? ['trials around this setting disagree, or are few'] : []),
      ...(colour.lab && colour.spreadDeltaE === null ? ['a single coloured trial: spread unknown'] : []),
    ],
  };
}

const UNTESTED = {
  class: 'untested',
  probabilities: null,
  lab: null,
  spreadDeltaE: null,
  thicknessNm: null,
} as const;

/** Asked for every trial at every place of a map, where `Math.hypot` would take most of the time. */
export const distanceBetween = (trial: ProcessSetting, at: ProcessSetting): number =>
  Math.sqrt(
    ((trial.temperatureC - at.temperatureC) / SCALE.temperatureC) ** 2 +
      (apart(trial.voltageV, at.voltageV) / SCALE.voltageV) ** 2 +
      (Math.log2(trial.timeS / at.timeS) / SCALE.doublings) ** 2 +
      ((trial.massFraction - at.massFraction) / SCALE.massFraction) ** 2 +
      (apart(trial.coatingThicknessUm, at.coatingThicknessUm) / SCALE.coatingThicknessUm) ** 2 +
      (apart(trial.pH, at.pH) / SCALE.pH) ** 2,
  );

/** Where only one of the two states a figure nobody knows how near they are. */
const apart = (one: number | undefined, other: number | undefined): number =>
  one === undefined || other === undefined ? (one === other ? 0 : Infinity) : one - other;

const total = (weighted: readonly { weight: number }[]): number =>
  weighted.reduce((sum, { weight }) => sum + weight, 0);

/** Of one value at least. */
export const weightedMean = (values: readonly { value: number; weight: number }[]): number =>
  values.reduce((sum, { value, weight }) => sum + value * weight, 0) / total(values);

function meanThickness(trials: readonly { thicknessNm?: number; weight: number }[]): number | null {
  const measured = trials.flatMap(({ thicknessNm: value, weight }) =>
    value === undefined ? [] : { value, weight },
  );
  return measured.length === 0 ? null : weightedMean(measured);
}

export function meanColour(
  coloured: readonly { lab: Lab; weight: number }[],
): Pick<ProcessMapPoint, 'lab' | 'spreadDeltaE'> {
  if (coloured.length === 0) return { lab: null, spreadDeltaE: null };
  const mean = (options: (lab: Lab) => number) =>
    weightedMean(coloured.map(({ lab, weight }) => ({ value: options(lab), weight })));
  const lab = { L: mean(({ L }) => L), a: mean(({ a }) => a), b: mean(({ b }) => b) };
  if (coloured.length === 1) return { lab, spreadDeltaE: null };
  return { lab, spreadDeltaE: Math.sqrt(mean((each) => ciede2000(lab, each) ** 2)) };
}
