import { CalcError, type Forecast, forecast } from '@huelot/calc';
import { DAY_MS } from '$lib/format/time.ts';

/** Where the straight line starts: after the last addition or decant, with the fill, or with the results in view. */
export type ForecastFrom = 'addition' | 'fill' | 'view';

interface ForecastInput {
  atMs: readonly number[];
  values: readonly number[];
  fill: readonly number[];
  /** What was put in or taken out, oldest first. */
  changesAtMs: readonly number[];
  from: ForecastFrom;
  viewFromMs: number;
  lower: number | null;
  upper: number | null;
}

export interface Reached {
  limit: number;
  side: 'lower' | 'upper';
  atMs: number | null;
  earliestMs: number | null;
  latestMs: number | null;
}

export interface DriftForecast {
  drift: Forecast;
  points: number;
  /** The line at the last result. */
  last: { atMs: number; value: number };
  reached: Reached[];
}

/** The places that the line is laid through; always the end of the latest fill. */
export function forecastPlaces({
  atMs,
  fill,
  changesAtMs,
  from,
  viewFromMs,
}: Pick<ForecastInput, 'atMs' | 'fill' | 'changesAtMs' | 'from' | 'viewFromMs'>) {
  const latest = fill.at(-1);
  const after =
    from === 'addition' ? (changesAtMs.at(-1) ?? -Infinity) : from === 'view' ? viewFromMs : -Infinity;
  return atMs.flatMap((at, place) => (fill[place] === latest && at >= after ? [place] : []));
}

/**
 * When the component reaches its limit if it goes on as it went, or why that cannot be said.
 *
 * @example
 * limitForecast({ ...series, from: 'addition', lower: 0.48, upper: 0.52 }) // { drift, reached: [{ side: 'lower', atMs }] }
 */
export function limitForecast(input: ForecastInput): DriftForecast | { fault: string } {
  const places = forecastPlaces(input);
  const samples = places.map((place) => ({
    day: (input.atMs[place] ?? 0) / DAY_MS,
    value: input.values[place] ?? 0,
  }));
  if (samples.length < 3) {
    const where = { addition: 'since the last addition', fill: 'in this fill', view: 'in view' }[input.from];
    return { fault: `A forecast needs three results; ${samples.length} ${where}.` };
  }
  try {
    const drift = forecast({
      samples,
      ...(input.lower === null ? {} : { lowerLimit: input.lower }),
      ...(input.upper === null ? {} : { upperLimit: input.upper }),
    });
    const inMs = (day: number | null | undefined) => (typeof day === 'number' ? day * DAY_MS : null);
    const reached = (['lower', 'upper'] as const).flatMap((side): Reached[] => {
      const [found, limit] = [drift[side], input[side]];
      if (found === null || limit === null) return [];
      const { day, earliestDay, latestDay } = found;
      return [{ limit, side, atMs: inMs(day), earliestMs: inMs(earliestDay), latestMs: inMs(latestDay) }];
    });
    const last = { atMs: input.atMs.at(-1) ?? 0, value: drift.valueAtLastDay };
    return { drift, points: samples.length, last, reached };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { fault: 'All results are from one moment, so there is no forecast.' };
  }
}

/** The line of a forecast as it is drawn: on the shop's clock and in the unit shown. */
export interface ForecastLine {
  from: { clock: number; value: number };
  to: { clock: number; value: number };
  /** Where the band of the line meets the limit; without an end when the drift may as well be none. */
  interval: { level: number; earliest: number; latest: number | null } | null;
  /** The limit lies above the line: words stand clear of it there. */
  above: boolean;
  words: string;
}

type Text = (value: number) => string;

/**
 * How the component drifts, with what the results leave open.
 *
 * @example
 * driftWords(forecast, text) // 'It falls by 0.05 wt% a day (0.03 to 0.07 wt%).'
 */
export function driftWords({ drift }: DriftForecast, text: Text): string {
  const { driftPerDay, driftInterval } = drift;
  if (driftInterval.low <= 0 && driftInterval.high >= 0)
    return `No clear drift: between ${text(driftInterval.low)} and ${text(driftInterval.high)} a day.`;
  const [least, most] = [Math.abs(driftInterval.low), Math.abs(driftInterval.high)].sort((a, b) => a - b);
  const way = driftPerDay < 0 ? 'falls' : 'rises';
  return `It ${way} by ${text(Math.abs(driftPerDay))} a day (${text(least ?? 0)} to ${text(most ?? 0)}).`;
}

/** When a limit is reached, and between which days. */
export function reachedWords(
  { limit, side, atMs, earliestMs, latestMs }: Reached,
  { text, date, lastMs }: { text: Text; date: (ms: number) => string; lastMs: number },
): string {
  const name = `${side === 'lower' ? 'low' : 'high'} limit, ${text(limit)}`;
  if (atMs !== null && atMs <= lastMs) return `The ${name} has been passed already.`;
  if (atMs === null && earliestMs === null) return `The ${name} is not reached within the forecast.`;
  if (atMs === null)
    return `The ${name} may be reached from ${date(earliestMs ?? 0)} on, if the drift is at the edge of its interval.`;
  const [earliest, latest] = [date(earliestMs ?? atMs), date(latestMs ?? atMs)];
  const between =
    latestMs === null
      ? `not before ${earliest}, and perhaps never`
      : earliest === latest
        ? 'within a day of that'
        : `between ${earliest} and ${latest}`;
  return `The ${name} is reached on ${date(atMs)}: ${between}.`;
}
