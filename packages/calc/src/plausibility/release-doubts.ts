import { checkFinite, checkNumber } from '../check.ts';

/** What speaks against putting work into a bath again. */
export type ReleaseDoubt =
  | { code: 'too-cold'; temperatureC: number; limitC: number }
  | { code: 'too-hot'; temperatureC: number; limitC: number }
  | { code: 'mixed-too-short'; mixedS: number; leastS: number }
  | { code: 'sampled-too-soon'; afterS: number; leastS: number };

/** A tank is stirred for a quarter of an hour before it is one liquid. Common practice, no source. */
const leastMixingS = 900;

/**
 * What speaks against releasing a bath after an addition: colder or hotter than its tank is run, stirred for less than
 * a quarter of an hour, or confirmed by a sample taken sooner than that. Empty when nothing does.
 *
 * Valid for mixedS 0 and up. Source: limits of the tank; the quarter of an hour is common practice, no source.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * releaseDoubts({ temperatureC: 5, mixedS: 0, minC: 40, maxC: 95, sampledAfterS: null })
 * // [{ code: 'too-cold', temperatureC: 5, limitC: 40 }, { code: 'mixed-too-short', mixedS: 0, leastS: 900 }]
 */
export function releaseDoubts(input: {
  temperatureC: number;
  mixedS: number;
  /** Of the tank; null where it has none. */
  minC: number | null;
  maxC: number | null;
  /** How long after the addition the confirming sample was taken; null without one. */
  sampledAfterS: number | null;
}): ReleaseDoubt[] {
  checkFinite('', input);
  const { temperatureC, minC, maxC, sampledAfterS } = input;
  const mixedS = checkNumber('mixedS', input.mixedS, { min: 0 });
  const doubts: ReleaseDoubt[] = [];
  if (minC !== null && temperatureC < minC) doubts.push({ code: 'too-cold', temperatureC, limitC: minC });
  if (maxC !== null && temperatureC > maxC) doubts.push({ code: 'too-hot', temperatureC, limitC: maxC });
  if (mixedS < leastMixingS) doubts.push({ code: 'mixed-too-short', mixedS, leastS: leastMixingS });
  if (sampledAfterS !== null && sampledAfterS < leastMixingS)
    doubts.push({ code: 'sampled-too-soon', afterS: Math.max(0, sampledAfterS), leastS: leastMixingS });
  return doubts;
}

/** Margin to the boiling point of water, which is the floor for any bath. Common practice, no source. */
const waterMarginC = 90;

/**
 * Where adding stops until the bath has cooled: the next portion goes in at or below `resumeBelowC`, and nothing more is
 * added above `stopAboveC`.
 *
 * Both leave room for one portion below the highest temperature of the tank, or below 90 °C where the tank has none.
 * Valid for riseK (of one portion) 0 and up. Source: common practice, no source. Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * portionGate({ workingTemperatureC: 60, maxC: 95, riseK: 5 }) // { resumeBelowC: 65, stopAboveC: 90 }
 */
export function portionGate(input: { workingTemperatureC: number; maxC: number | null; riseK: number }): {
  resumeBelowC: number;
  stopAboveC: number;
} {
  checkFinite('', input);
  const riseK = checkNumber('riseK', input.riseK, { min: 0 });
  const stopAboveC = (input.maxC ?? Math.max(waterMarginC, input.workingTemperatureC + riseK)) - riseK;
  return { resumeBelowC: Math.min(stopAboveC, input.workingTemperatureC + riseK), stopAboveC };
}
