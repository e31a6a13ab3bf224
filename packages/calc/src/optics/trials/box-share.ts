import { checkName } from '../../check.ts';
import { CLAIM, chanceOf, type Leaning, outcomeBeliefs } from './outcome-belief.ts';
import type { ProcessSetting } from './process-trial.ts';
import { type SettingBox, settingsIn } from './setting-box.ts';
import { type MapInput, mappedTrials } from './trial-map.ts';
import { type TrialOutcome, trialOutcomes } from './trial-outcomes.ts';

/** Shares of a box, which sum to 1. */
export interface BoxShare {
  /** Where the trials tell the wanted outcome. */
  wanted: number;
  /** Where they tell that something else comes out. */
  other: number;
  /** Where they are few or disagree, or where nobody looked. */
  unsettled: number;
}

/**
 * How much of what a recipe allows gives the wanted outcome by the trials, how much gives something else, and how much they
 * do not settle.
 *
 * `trials` and `target` as for {@link trialMap}; `box` one figure or a range for each factor, at most four ranges; `wanted`
 * the outcome that the recipe is for. Either is told from a probability of 0.7.
 * Source: the wanted outcome against all others, by the Gaussian process of {@link trialMap}, over an even grid of the box.
 * Errors: as {@link trialMap}; `unknown` for `wanted`; `out-of-range` for a range upside down or a fifth one.
 *
 * @example
 * const trial = (voltageV: number, outcome: 'none' | 'dark') => ({ temperatureC: 90, voltageV, timeS: 600, strength: 50, outcome });
 * const trials = [trial(1, 'none'), trial(1.8, 'dark'), trial(2, 'dark'), trial(2.2, 'dark')];
 * boxShare({ trials, target: 50, box: { temperatureC: 90, voltageV: { low: 1.7, high: 2.3 }, timeS: 600, strength: 50 }, wanted: 'dark' }) // { wanted: 1, other: 0, unsettled: 0 }
 */
export function boxShare(input: MapInput & { box: SettingBox; wanted: TrialOutcome }): BoxShare {
  const wanted = checkName('wanted', input.wanted, trialOutcomes);
  const { trials, place } = mappedTrials(input);
  return shareOf(settingsIn(input.box).map(place), leaningTo(wanted, trials));
}

/** How one outcome leans at a setting. */
export function leaningTo(
  wanted: TrialOutcome,
  trials: Parameters<typeof outcomeBeliefs>[0],
): (setting: ProcessSetting) => Leaning {
  const { outcomes, leaningsAt } = outcomeBeliefs(trials, wanted);
  const index = outcomes.indexOf(wanted);
  return (setting) => leaningsAt(setting)[index] ?? { mean: 0, deviation: 1 };
}

/** Shares of settings whose outcome is told. */
export function shareOf(
  settings: readonly ProcessSetting[],
  leaningAt: (setting: ProcessSetting) => Leaning,
): BoxShare {
  const chances = settings.map((setting) => chanceOf(leaningAt(setting)));
  const wanted = chances.filter((chance) => chance >= CLAIM).length / chances.length;
  const other = chances.filter((chance) => chance <= 1 - CLAIM).length / chances.length;
  return { wanted, other, unsettled: Math.max(0, 1 - wanted - other) };
}
