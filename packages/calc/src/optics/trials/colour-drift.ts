import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { checkNumber } from '../../check.ts';
import { type FittedColour, fitAround, isVaried } from './fit-around.ts';
import { distanceBetween, LIKELY, processMap, REACH, SCALE, weightAt } from './process-map.ts';
import { checkSetting } from './process-trial.ts';
import { isColourOutcome, type TrialOutcome } from './trial-outcomes.ts';
import {
  asSetting,
  asTrial,
  checkStrength,
  checkStrengthTrials,
  checkTarget,
  type StrengthTrial,
  type TankSetting,
} from './strength-trial.ts';

/** Why trials say nothing about a colour. */
export type DriftGap =
  'no-trial-near' | 'trials-disagree' | 'one-strength' | 'outside-tried' | 'few-trials' | 'not-separable';

export interface DriftColour {
  target: Lab;
  present: Lab;
  deltaE: number;
  /** Standard uncertainty of the difference; null where the analysis states none. */
  spreadDeltaE: number | null;
  /** Whether the difference is more than twice its spread; null where that is not known. */
  isTold: boolean | null;
  /** How far single coupons of one setting lie from their mean. */
  scatterDeltaE: number;
}

export interface ColourDrift {
  /** What most likely comes out at the target strength and at the present one. */
  outcome: Record<'target' | 'present', TrialOutcome | 'untested'>;
  /** Null where trials do not support a colour, where nothing or a fault comes out, or where the two outcomes differ. */
  colour: DriftColour | null;
  gap: DriftGap | null;
  support: {
    /** Trials in reach of the setting, and those of them with this outcome and a colour. */
    near: number;
    coloured: number;
    /** Strengths tried among the coloured ones. */
    strengths: { low: number; high: number } | null;
    /** The trial most like the setting, at whatever strength. */
    nearest: number | null;
  };
}

/** A colour that may be off by more than this is no answer (common practice, no source). */
const UNCLEAR = 5;

/**
 * What a bath that left its target strength does to colour at one setting, from trials made at several strengths:
 * colour at the target, colour now, and the difference by CIEDE2000. Answers only near trials and between strengths that
 * were tried, otherwise it names the gap.
 *
 * `trials` of one material and preparation in one kind of bath; strengths of trials, `target` and `present` in one unit,
 * whichever, 0 to 1e6, the target above 0; temperature -20 to 300 °C, voltage 0 to 1000 V, time above 0 s. Whether the
 * setting was tried at both strengths, and what comes out, is said by {@link processMap}, which takes a tenth of the target
 * strength for one step. The colour is a straight line in strength, and in every other setting that the trials vary,
 * through the coloured trials in reach, weighted as there; two more of them than the line has unknowns are needed. Of a
 * setting that the trials do not vary nothing is known: both colours are then those of the trials' own setting. The
 * spread joins the standard uncertainty of the present strength and the standard error of the line.
 * Source: locally weighted regression (W. S. Cleveland, J. Am. Stat. Assoc. 74, 829 (1979)); the reach and the limit of
 * 5 beyond which a colour is not shown are common practice, no source.
 * Errors: `unknown` for an outcome; `not-finite`, `out-of-range` for any figure, named by its trial.
 *
 * @example
 * const at = { temperatureC: 50, voltageV: 2.2, timeS: 480 };
 * const trial = (strength: number, b: number) => ({ ...at, strength, outcome: 'interference' as const, lab: { L: 40, a: 5, b } });
 * const trials = [trial(46, -28), trial(48, -31), trial(50, -34), trial(52, -37)];
 * const { colour } = colourDrift({ trials, at, target: 50, present: { strength: 48, standardUncertainty: 0.4 } });
 * colour // { present: { b: -31 }, deltaE: 1.515, spreadDeltaE: 0.3125, isTold: true }
 */
export function colourDrift(input: {
  trials: readonly StrengthTrial[];
  at: TankSetting;
  target: number;
  present: { strength: number; standardUncertainty: number | null };
}): ColourDrift {
  const target = checkTarget(input.target);
  const strength = checkStrength('present.strength', input.present.strength);
  const uncertainty =
    input.present.standardUncertainty === null
      ? null
      : checkNumber('present.standardUncertainty', input.present.standardUncertainty, { min: 0, max: 1e6 });
  checkStrengthTrials(input.trials);
  const trials = input.trials.map((trial) => asTrial(trial, target));
  const at = (where: number) => checkSetting('at', asSetting(input.at, { strength: where, target }));
  const points = {
    target: processMap({ trials, at: at(target) }),
    present: processMap({ trials, at: at(strength) }),
  };
  const outcome = { target: points.target.class, present: points.present.class };

  const middle = at((target + strength) / 2);
  const near = trials.flatMap((trial, index) => {
    const distance = distanceBetween(trial, middle);
    return distance <= REACH ? [{ trial, index, distance }] : [];
  });
  const coloured = near.flatMap(({ trial, index, distance }) =>
    trial.outcome === outcome.target && trial.lab
      ? [{ ...trial, lab: trial.lab, distance, strength: input.trials[index]?.strength ?? NaN }]
      : [],
  );
  const tried = coloured.map((one) => one.strength);
  const support: ColourDrift['support'] = {
    near: near.length,
    coloured: coloured.length,
    strengths: tried.length === 0 ? null : { low: Math.min(...tried), high: Math.max(...tried) },
    nearest: points.target.nearest?.index ?? null,
  };
  const answer = (extra: Pick<ColourDrift, 'colour' | 'gap'>): ColourDrift => ({
    outcome,
    support,
    ...extra,
  });
  const untested = (gap: DriftGap) => answer({ colour: null, gap });

  for (const { class: found, probabilities } of Object.values(points)) {
    if (found === 'untested') return untested('no-trial-near');
    if ((probabilities?.[found] ?? 0) < LIKELY) return untested('trials-disagree');
  }
  if (outcome.target !== outcome.present || outcome.target === 'untested' || !isColourOutcome(outcome.target))
    return answer({ colour: null, gap: null });
  if (support.strengths === null) return untested('few-trials');
  if (!isVaried(tried)) return untested('one-strength');
  const { low, high } = support.strengths;
  if (Math.min(target, strength) < low || Math.max(target, strength) > high) return untested('outside-tried');

  const fit = fitAround(
    coloured.map((trial) => ({
      lab: trial.lab,
      weight: weightAt(trial.distance),
      strength: trial.strength / target - 1,
      others: [
        (trial.temperatureC - middle.temperatureC) / SCALE.temperatureC,
        ((trial.voltageV ?? 0) - (middle.voltageV ?? 0)) / SCALE.voltageV,
        Math.log2(trial.timeS / middle.timeS),
        ((trial.coatingThicknessUm ?? 0) - (middle.coatingThicknessUm ?? 0)) / SCALE.coatingThicknessUm,
        ((trial.pH ?? 0) - (middle.pH ?? 0)) / SCALE.pH,
      ],
    })),
  );
  if (fit === 'few-trials' || fit === 'not-separable') return untested(fit);
  const colour = driftAlong(fit, {
    away: strength / target - 1,
    uncertainty: uncertainty === null ? null : uncertainty / target,
  });
  return colour === null ? untested('not-separable') : answer({ colour, gap: null });
}

/** Null where the line is too uncertain to be shown. */
function driftAlong(
  fit: FittedColour,
  { away, uncertainty }: { away: number; uncertainty: number | null },
): DriftColour | null {
  const target = moved(fit.at, fit.slope, 0);
  const present = moved(fit.at, fit.slope, away);
  const ofLine = inAllAxes(target, scaled(fit.slopeError, Math.abs(away)));
  if (Math.max(ofLine, inAllAxes(target, fit.atError)) > UNCLEAR) return null;
  const ofStrength =
    uncertainty === null
      ? null
      : (ciede2000(present, moved(present, fit.slope, uncertainty)) +
          ciede2000(present, moved(present, fit.slope, -uncertainty))) /
        2;
  const deltaE = ciede2000(target, present);
  const spreadDeltaE = ofStrength === null ? null : Math.hypot(ofStrength, ofLine);
  return {
    target,
    present,
    deltaE,
    spreadDeltaE,
    isTold: spreadDeltaE === null ? null : deltaE > 2 * spreadDeltaE,
    scatterDeltaE: inAllAxes(target, fit.scatter),
  };
}

/** A line may run out of what a colour can be. */
const moved = (from: Lab, slope: Lab, by: number): Lab => ({
  L: within(from.L + by * slope.L, 0, 100),
  a: within(from.a + by * slope.a, -200, 200),
  b: within(from.b + by * slope.b, -200, 200),
});
const within = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));
const scaled = ({ L, a, b }: Lab, by: number): Lab => ({ L: L * by, a: a * by, b: b * by });

/** Errors of the three axes, each as a colour difference, taken as independent. */
const inAllAxes = (from: Lab, { L, a, b }: Lab): number =>
  Math.hypot(
    ciede2000(from, moved(from, { L, a: 0, b: 0 }, 1)),
    ciede2000(from, moved(from, { L: 0, a, b: 0 }, 1)),
    ciede2000(from, moved(from, { L: 0, a: 0, b }, 1)),
  );
