import type { Lab } from '../../colour/colour-types.ts';
import { checkNumber } from '../../check.ts';
import { type OutcomeBelief, outcomeBeliefs } from './outcome-belief.ts';
import { meanColour, REACH, weightAt, weightedMean } from './process-map.ts';
import { checkSetting, checkTrial, type ProcessSetting } from './process-trial.ts';
import {
  asSetting,
  asTrial,
  checkStrength,
  checkStrengthTrials,
  checkTarget,
  type StrengthTrial,
} from './strength-trial.ts';
import { outcomeKind, type TrialOutcome } from './trial-outcomes.ts';

/** A place on a map: what is set, with the strength in the unit of the trials. */
export type MapSetting = Omit<ProcessSetting, 'massFraction'> & { strength: number };

export interface MapTrial extends StrengthTrial {
  /** At its end. */
  currentDensityAPerM2?: number | undefined;
  /** As it was measured on this coupon, with its standard uncertainty; left out where nobody did. */
  thickness?: { thicknessNm: number; standardUncertaintyNm: number } | undefined;
  /** Left out where nobody tried. */
  protects?: boolean | undefined;
}

export interface TrialMapPoint extends OutcomeBelief {
  /** Of the class, by the trials of it around; null where nothing is claimed, it is a fault, or none has a colour. */
  lab: Lab | null;
  /** Root mean square CIEDE2000 of the trials around from `lab`; null with fewer than two. */
  spreadDeltaE: number | null;
  currentDensityAPerM2: number | null;
  /**
   * Of the film, by the trials around whose film was measured; its standard uncertainty holds what those measurements claim and how
   * much their films differ. Null where nobody measured.
   */
  thickness: { thicknessNm: number; standardUncertaintyNm: number; measured: number } | null;
  /** Share of the trials around that protect, 0 to 1. */
  protects: number | null;
  /** Index of the trial most like the setting; its distance as in {@link processMap}. */
  nearest: { index: number; distance: number } | null;
}

export interface TrialMap {
  /** Those that are told apart. */
  outcomes: readonly TrialOutcome[];
  at(setting: MapSetting): TrialMapPoint;
  /** How far each trial is from a setting, as in {@link processMap}; Infinity where it states another set of factors. */
  distancesTo(setting: MapSetting): number[];
}

export interface MapInput {
  trials: readonly MapTrial[];
  /** What the strength of the bath is kept at. */
  target: number;
}

const checkFigures = ({ trials }: MapInput): void =>
  trials.forEach(({ currentDensityAPerM2, thickness }, index) => {
    checkNumber(`trials[${index}].currentDensityAPerM2`, currentDensityAPerM2 ?? 0, { min: 0, max: 1e6 });
    const argument = `trials[${index}].thickness`;
    checkNumber(`${argument}.thicknessNm`, thickness?.thicknessNm ?? 0, { min: 0, max: 1e7 });
    checkNumber(`${argument}.standardUncertaintyNm`, thickness?.standardUncertaintyNm ?? 0, {
      min: 0,
      max: 1e7,
    });
  });

/** Trials as they lie on a map, checked. */
export function mappedTrials(input: MapInput) {
  const target = checkTarget(input.target);
  checkStrengthTrials(input.trials);
  checkFigures(input);
  const trials = input.trials.map((trial, index) => checkTrial(`trials[${index}]`, asTrial(trial, target)));
  const place = ({ strength, ...setting }: MapSetting): ProcessSetting =>
    checkSetting(
      'setting',
      asSetting(setting, { strength: checkStrength('setting.strength', strength), target }),
    );
  return { trials, place };
}

/**
 * A map of what comes out of the settings around trials of one alloy and preparation: which outcome may be claimed and with
 * what probability, and the colour, current density, thickness and protection that the trials around it had. Made once,
 * asked for each place of a picture.
 *
 * `trials` with strengths in one unit, at most 500; `target` the strength that the bath is kept at, above 0. A setting:
 * temperature -20 to 300 °C, voltage 0 to 1000 V, time above 0 s, strength 0 to 1e6. An outcome is claimed from a probability
 * of 0.7; between trials that disagree the place is `unsettled`, away from all of them `untested`.
 * Source: outcomes by Gaussian processes, Rasmussen and Williams 2006, 2.2 and 6.5; figures by {@link processMap}.
 * Errors: `unknown` for an outcome; `not-finite`, `out-of-range` for any figure, named by its trial, or for more than 500 trials.
 *
 * @example
 * const trial = (temperatureC: number, outcome: 'none' | 'interference') => ({ temperatureC, voltageV: 2.2, timeS: 300, strength: 50, outcome });
 * const map = trialMap({ trials: [trial(30, 'none'), trial(50, 'interference'), trial(55, 'interference')], target: 50 });
 * [32, 41, 52, 90].map((temperatureC) => map.at({ temperatureC, voltageV: 2.2, timeS: 300, strength: 50 }).class) // ['none', 'unsettled', 'interference', 'untested']
 */
export function trialMap(input: MapInput): TrialMap {
  checkNumber('trials.length', input.trials.length, { max: 500 });
  const { trials, place } = mappedTrials(input);
  const { outcomes, distancesTo, beliefFrom } = outcomeBeliefs(trials);
  return {
    outcomes,
    distancesTo: (setting) => distancesTo(place(setting)),
    at(setting) {
      const distances = distancesTo(place(setting));
      const belief = beliefFrom(distances);
      const near = input.trials.flatMap((trial, index) => {
        const distance = distances[index] ?? Infinity;
        return distance <= REACH ? [{ trial, weight: weightAt(distance) }] : [];
      });
      const coloured = isFault(belief.class)
        ? []
        : near.filter(({ trial }) => trial.outcome === belief.class);
      const least = Math.min(...distances);
      return {
        ...belief,
        ...meanColour(coloured.flatMap(({ trial: { lab }, weight }) => (lab ? { lab, weight } : []))),
        currentDensityAPerM2: meanOf(near, ({ currentDensityAPerM2 }) => currentDensityAPerM2),
        thickness: meanThickness(near),
        protects: meanOf(near, ({ protects }) => (protects === undefined ? undefined : Number(protects))),
        nearest: least < Infinity ? { index: distances.indexOf(least), distance: least } : null,
      };
    },
  };
}

const isFault = (found: TrialMapPoint['class']) =>
  found !== 'unsettled' && found !== 'untested' && outcomeKind(found) === 'fault';

/** Measurements are independent of each other; how much the films around differ is not made smaller by their number. */
function meanThickness(near: readonly { trial: MapTrial; weight: number }[]): TrialMapPoint['thickness'] {
  const measured = near.flatMap(({ trial: { thickness }, weight }) =>
    thickness === undefined ? [] : [{ ...thickness, weight }],
  );
  if (measured.length === 0) return null;
  const mean = (figureOf: (one: (typeof measured)[number]) => number) =>
    weightedMean(measured.map((one) => ({ value: figureOf(one), weight: one.weight })));
  const thicknessNm = mean((one) => one.thicknessNm);
  const weights = measured.reduce((sum, { weight }) => sum + weight, 0);
  const claimed = Math.hypot(...measured.map((one) => one.weight * one.standardUncertaintyNm)) / weights;
  const spread = Math.sqrt(mean((one) => (one.thicknessNm - thicknessNm) ** 2));
  return { thicknessNm, standardUncertaintyNm: Math.hypot(claimed, spread), measured: measured.length };
}

function meanOf(
  near: readonly { trial: MapTrial; weight: number }[],
  figureOf: (trial: MapTrial) => number | undefined,
): number | null {
  const known = near.flatMap(({ trial, weight }) => {
    const value = figureOf(trial);
    return value === undefined ? [] : { value, weight };
  });
  return known.length === 0 ? null : weightedMean(known);
}
