import { checkName } from '../../check.ts';
import { type BoxShare, leaningTo, shareOf } from './box-share.ts';
import { chanceOf } from './outcome-belief.ts';
import { type SettingBox, settingsIn } from './setting-box.ts';
import { type MapInput, type MapSetting, mappedTrials } from './trial-map.ts';
import { type TrialOutcome, trialOutcomes } from './trial-outcomes.ts';

export interface NextTrial {
  setting: MapSetting;
  /** `unknown`: nobody looked there. `boundary`: trials on both sides of it differ. `confirm`: all is told; here it is least sure. */
  reason: 'unknown' | 'boundary' | 'confirm';
  /** That the wanted outcome comes out. */
  probability: number;
  now: BoxShare;
  /** What the box is expected to be after it, over both ways it may come out. */
  expected: BoxShare;
}

/** How many standard deviations of not knowing outweigh how clear an outcome looks. */
const STRADDLE = 1.96;
/** Below this the trials say nothing of a place beyond what is believed everywhere. */
const CLEAR = 0.5;
/** What a shop can set, in the order of a form; the other factors are taken as they are. */
const STEPS: Partial<Record<keyof MapSetting, number>> = { temperatureC: 1, voltageV: 0.05, timeS: 10 };

/**
 * The one trial to run next in a box of settings: where it is least clear whether the wanted outcome comes out, and how much
 * of the box it is expected to settle. Where all of the box is told already it is the one that would confirm most.
 *
 * `trials` and `target` as for {@link trialMap}; `box` a recipe's limits or the frame of a map, as for {@link boxShare};
 * `wanted` the outcome to look for. Settings are proposed in whole degrees, twentieths of a volt and tens of seconds, never
 * outside of the box.
 * Source: the straddle rule of level set estimation (B. Bryan, J. Schneider, R. C. Nichol et al., NIPS 2005; from memory),
 * over the Gaussian process of {@link trialMap}; how it does against a grid is in bench/steel-shops.ts.
 * Errors: as {@link boxShare}.
 *
 * @example
 * const trial = (voltageV: number, outcome: 'none' | 'dark') => ({ temperatureC: 90, voltageV, timeS: 600, strength: 50, outcome });
 * const box = { temperatureC: 90, voltageV: { low: 1, high: 2 }, timeS: 600, strength: 50 };
 * nextTrial({ trials: [trial(1, 'none'), trial(2, 'dark')], target: 50, box, wanted: 'dark' }).setting // { voltageV: 1.5 }
 */
export function nextTrial(input: MapInput & { box: SettingBox; wanted: TrialOutcome }): NextTrial {
  const wanted = checkName('wanted', input.wanted, trialOutcomes);
  const { trials, place } = mappedTrials(input);
  const places = settingsIn(input.box).map(place);
  const leaningAt = leaningTo(wanted, trials);
  const now = shareOf(places, leaningAt);
  const candidates = settingsIn(input.box, { ends: true }).map((setting) => {
    const rounded = settable(setting, input.box);
    const leaning = leaningAt(place(rounded));
    return { setting: rounded, leaning, worth: STRADDLE * leaning.deviation - Math.abs(leaning.mean) };
  });
  const best = candidates.reduce((one, other) => (other.worth > one.worth + 1e-9 ? other : one));
  const probability = chanceOf(best.leaning);
  const after = (outcome: TrialOutcome) =>
    shareOf(places, leaningTo(wanted, [...trials, { ...place(best.setting), outcome }]));
  const [hit, miss] = [after(wanted), after(wanted === 'none' ? 'dark' : 'none')];
  const mean = (key: keyof BoxShare) => probability * hit[key] + (1 - probability) * miss[key];
  return {
    setting: best.setting,
    reason: now.unsettled === 0 ? 'confirm' : best.leaning.deviation > CLEAR ? 'unknown' : 'boundary',
    probability,
    now,
    expected: { wanted: mean('wanted'), other: mean('other'), unsettled: mean('unsettled') },
  };
}

/** The nearest setting inside the box that a shop can dial in. */
function settable(setting: MapSetting, box: SettingBox): MapSetting {
  const rounded = { ...setting };
  for (const [factor, step] of Object.entries(STEPS) as [keyof typeof STEPS, number][]) {
    const [value, limits] = [setting[factor], box[factor]];
    if (value === undefined || typeof limits !== 'object') continue;
    const near = Number((Math.round(value / step) * step).toFixed(2));
    rounded[factor] = Math.min(limits.high, Math.max(limits.low, near));
  }
  return rounded;
}
