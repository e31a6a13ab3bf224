import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { linearFit, studentQuantile } from '../numeric/index.ts';
import { bisect } from '../numeric/root.ts';

/** A day is a number on any clock the caller likes: days since the fill, or since an epoch. */
export interface BathSample {
  day: number;
  value: number;
}

export interface LimitForecast {
  /** When the fitted line meets the limit; null when it never does. */
  day: number | null;
  /** When the confidence band first meets it; null when it never does. */
  earliestDay: number | null;
  /** When the whole band has met it; null when the drift may as well be none. */
  latestDay: number | null;
}

export interface Forecast {
  driftPerDay: number;
  driftInterval: { low: number; high: number };
  /** The line at the last sample, additions included. */
  valueAtLastDay: number;
  residualStandardDeviation: number;
  lower: LimitForecast | null;
  upper: LimitForecast | null;
  flags: string[];
}

/** How far ahead a limit is looked for, in spans of the samples. */
const horizonSpans = 20;

/**
 * Drift of a bath component in its own unit per day, with its interval, and the day it reaches a limit. Additions
 * in between are given as steps, so that the drift under the saw-tooth is seen.
 *
 * At least three samples on at least two days, values finite; limits optional; confidence 0.5 to 0.999, default
 * 0.95. Looks ahead twenty times the span of the samples. Flags: drift not told from none, limit already passed.
 * Source: straight line by least squares; the interval of the line itself (not of a single analysis), Student's t.
 * Errors: `malformed` for too few samples, `impossible` for all on one day or limits that cross, `out-of-range` or
 * `not-finite`.
 *
 * @example
 * forecast({
 *   samples: [
 *     { day: 0, value: 50.1 },
 *     { day: 7, value: 49.7 },
 *     { day: 14, value: 49.5 },
 *     { day: 21, value: 49.1 },
 *   ],
 *   lowerLimit: 48,
 * })
 * // { driftPerDay: -0.0457143, lower: { day: 45.5 }, upper: null, flags: [] }
 */
export function forecast(input: {
  samples: readonly BathSample[];
  /** What an addition changed, in the unit of the values, from that day on. */
  additions?: readonly { day: number; change: number }[];
  lowerLimit?: number;
  upperLimit?: number;
  confidence?: number;
}): Forecast {
  const { samples, additions, limits, confidence } = checkForecast(input);
  const addedBy = (day: number): number =>
    additions.reduce((sum, addition) => sum + (addition.day <= day ? addition.change : 0), 0);
  const days = samples.map(({ day }) => day);
  const lastDay = Math.max(...days);
  const firstDay = Math.min(...days);
  // Counted from the middle, level and slope of the line are independent.
  const middle = days.reduce((sum, day) => sum + day, 0) / days.length;
  const added = addedBy(lastDay);
  const fit = linearFit({
    x: days.map((day) => day - middle),
    y: samples.map(({ day, value }) => value - addedBy(day) + added),
  });
  const [level = NaN, drift = NaN] = fit.coefficients;
  const [levelError = NaN, driftError = NaN] = fit.standardErrors ?? [];
  const t = studentQuantile({ probability: (1 + confidence) / 2, degreesOfFreedom: fit.degreesOfFreedom });
  const line = (day: number): number => level + drift * (day - middle);
  const margin = (day: number): number => t * Math.hypot(levelError, driftError * (day - middle));

  const flags: string[] = [];
  if (Math.abs(drift) <= t * driftError) flags.push('drift not told from none');
  const horizon = lastDay + horizonSpans * (lastDay - firstDay);
  const reach = (limit: number | null, side: 1 | -1): LimitForecast | null => {
    if (limit === null) return null;
    if (side * (line(lastDay) - limit) >= 0)
      flags.push(`${side > 0 ? 'upper' : 'lower'} limit already passed`);
    const crossing = (edge: (day: number) => number): number | null =>
      firstCrossing({ f: (day) => side * (edge(day) - limit), low: lastDay, high: horizon });
    return {
      day: crossing(line),
      earliestDay: crossing((day) => line(day) + side * margin(day)),
      latestDay: side * drift > t * driftError ? crossing((day) => line(day) - side * margin(day)) : null,
    };
  };
  return {
    driftPerDay: drift,
    driftInterval: { low: drift - t * driftError, high: drift + t * driftError },
    valueAtLastDay: line(lastDay),
    residualStandardDeviation: fit.residualStandardDeviation ?? NaN,
    lower: reach(limits.lower, -1),
    upper: reach(limits.upper, 1),
    flags,
  };
}

/** Where a line or one edge of its band rises through zero; `low` when it is above already. */
function firstCrossing({
  f,
  low,
  high,
}: {
  f: (day: number) => number;
  low: number;
  high: number;
}): number | null {
  if (f(low) >= 0) return low;
  return f(high) < 0 ? null : bisect({ f, low, high });
}

function checkForecast(input: Parameters<typeof forecast>[0]): {
  samples: BathSample[];
  additions: { day: number; change: number }[];
  limits: { lower: number | null; upper: number | null };
  confidence: number;
} {
  const samples = input.samples.map(({ day, value }) => ({
    day: checkNumber('samples.day', day),
    value: checkNumber('samples.value', value),
  }));
  if (samples.length < 3) {
    throw new CalcError({
      code: 'malformed',
      argument: 'samples',
      given: `${samples.length} samples`,
      allowed: 'at least 3',
    });
  }
  const limit = (argument: string, value: number | undefined): number | null =>
    value === undefined ? null : checkNumber(argument, value);
  const lower = limit('lowerLimit', input.lowerLimit);
  const upper = limit('upperLimit', input.upperLimit);
  if (lower !== null && upper !== null && lower >= upper) {
    throw new CalcError({
      code: 'impossible',
      argument: 'lowerLimit',
      given: lower,
      allowed: `below ${upper}`,
    });
  }
  return {
    samples,
    additions: (input.additions ?? []).map(({ day, change }) => ({
      day: checkNumber('additions.day', day),
      change: checkNumber('additions.change', change),
    })),
    limits: { lower, upper },
    confidence: checkNumber('confidence', input.confidence ?? 0.95, { min: 0.5, max: 0.999 }),
  };
}
