import { cholesky, solveLower, solveUpper } from '../../numeric/cholesky.ts';
import { normalAbove } from '../../numeric/normal.ts';
import { distanceBetween } from './process-map.ts';
import type { ProcessSetting, ProcessTrial } from './process-trial.ts';
import { commonOutcomes, type TrialOutcome, trialOutcomes } from './trial-outcomes.ts';

/** How far what was seen at one setting speaks for another, in the steps of {@link distanceBetween}: 8.5 °C, or 0.34 V. */
const LENGTH = 0.85;
/** Of a coupon whose setting was not quite what was written down. */
const NOISE = 0.2;
/** An outcome is claimed from this probability on. */
export const CLAIM = 0.7;
/** Standard deviation, of 1 where nothing was tried, above which nobody looked. */
const UNTESTED = 0.8;

/** Of one outcome against all others at one setting: positive where it is likelier. */
export interface Leaning {
  mean: number;
  deviation: number;
}

export interface OutcomeBelief {
  /** The outcome that may be claimed; `unsettled` between trials that disagree, `untested` where nobody looked. */
  class: TrialOutcome | 'unsettled' | 'untested';
  /** Sum to 1. */
  probabilities: Partial<Record<TrialOutcome, number>>;
}

/** Of coupons that show something else than their setting does: swapped, badly cleaned, misread (common practice, no source). */
const MISREAD = 0.05;

/** That an outcome comes out, by what leans to it; never surer than coupons are. */
export const chanceOf = ({ mean, deviation }: Leaning): number =>
  MISREAD + (1 - 2 * MISREAD) * (1 - normalAbove(mean / Math.sqrt(deviation ** 2 + NOISE ** 2)));

/**
 * What trials tell of the outcome at any setting: one Gaussian process for each outcome against all others (labels 1 and
 * -1, squared exponential kernel over the distance between settings), which share their kernel and so their uncertainty. `wanted` is told apart also where no trial showed it.
 * Source: least-squares classification, Rasmussen and Williams, Gaussian Processes for Machine Learning (2006), 2.2 and 6.5;
 * length, noise and claim by the simulation in bench/steel-shops.ts.
 */
export function outcomeBeliefs(trials: readonly ProcessTrial[], wanted?: TrialOutcome) {
  const outcomes = trialOutcomes.filter(
    (outcome) =>
      outcome === wanted ||
      commonOutcomes.includes(outcome) ||
      trials.some((trial) => trial.outcome === outcome),
  );
  const lower = cholesky(
    trials.map((one, i) =>
      trials.map((other, j) => alike(distanceBetween(one, other)) + (i === j ? NOISE ** 2 : 0)),
    ),
  );
  const weights = outcomes.map((outcome) =>
    solveUpper(
      lower,
      solveLower(
        lower,
        trials.map((trial) => (trial.outcome === outcome ? 1 : -1)),
      ),
    ),
  );

  /** How each outcome leans at a setting that is so far from each trial, in the order of `outcomes`. */
  const leaningsFrom = (distances: readonly number[]): Leaning[] => {
    const kernel = distances.map(alike);
    let explained = 0;
    for (const value of solveLower(lower, kernel)) explained += value * value;
    const deviation = Math.sqrt(Math.max(0, 1 - explained));
    return weights.map((weight) => {
      let mean = 0;
      for (let index = 0; index < kernel.length; index += 1)
        mean += (weight[index] ?? 0) * (kernel[index] ?? 0);
      return { mean, deviation };
    });
  };
  const distancesTo = (setting: ProcessSetting) => trials.map((trial) => distanceBetween(trial, setting));

  return {
    outcomes,
    distancesTo,
    leaningsAt: (setting: ProcessSetting) => leaningsFrom(distancesTo(setting)),
    beliefFrom: (distances: readonly number[]): OutcomeBelief => {
      const leanings = leaningsFrom(distances);
      const chances = leanings.map(chanceOf);
      const best = Math.max(...chances);
      const likeliest = outcomes[chances.indexOf(best)] ?? 'none';
      const all = chances.reduce((sum, chance) => sum + chance, 0);
      return {
        class: (leanings[0]?.deviation ?? 1) > UNTESTED ? 'untested' : best < CLAIM ? 'unsettled' : likeliest,
        probabilities: Object.fromEntries(
          outcomes.map((outcome, index) => [outcome, (chances[index] ?? 0) / all]),
        ),
      };
    },
  };
}

const alike = (distance: number): number => Math.exp(-((distance / LENGTH) ** 2) / 2);
