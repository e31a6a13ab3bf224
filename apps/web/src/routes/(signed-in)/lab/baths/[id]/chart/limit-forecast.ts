import { CalcError, type Forecast, forecast } from '@huelot/calc';

const DAY_MS = 86_400_000;

/** Where the straight line starts: after the last addition or decant, with the fill, or with what is in view. */
export type ForecastFrom = 'addition' | 'fill' | 'view';

interface Asked {
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
export function forecastPlaces(asked: Pick<Asked, 'atMs' | 'fill' | 'changesAtMs' | 'from' | 'viewFromMs'>) {
  const { atMs, fill, changesAtMs, from, viewFromMs } = asked;
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
export function limitForecast(asked: Asked): DriftForecast | { fault: string } {
  const places = forecastPlaces(asked);
  const samples = places.map((place) => ({
    day: (asked.atMs[place] ?? 0) / DAY_MS,
    value: asked.values[place] ?? 0,
  }));
  if (samples.length < 3) {
    const where = { addition: 'since the last addition', fill: 'in this fill', view: 'in view' }[asked.from];
    return { fault: `A forecast needs three results; ${samples.length} ${where}.` };
  }
  try {
    const drift = forecast({
      samples,
      ...(asked.lower === null ? {} : { lowerLimit: asked.lower }),
      ...(asked.upper === null ? {} : { upperLimit: asked.upper }),
    });
    const inMs = (day: number | null | undefined) => (typeof day === 'number' ? day * DAY_MS : null);
    const reached = (['lower', 'upper'] as const).flatMap((side): Reached[] => {
      const [found, limit] = [drift[side], asked[side]];
      if (found === null || limit === null) return [];
      const { day, earliestDay, latestDay } = found;
      return [{ limit, side, atMs: inMs(day), earliestMs: inMs(earliestDay), latestMs: inMs(latestDay) }];
    });
    const last = { atMs: asked.atMs.at(-1) ?? 0, value: drift.valueAtLastDay };
    return { drift, points: samples.length, last, reached };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { fault: 'All results are of one moment, so nothing can be said about what comes.' };
  }
}
