import type { DriftForecast, Reached } from './limit-forecast.ts';

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
    return `No drift can be told: between ${text(driftInterval.low)} and ${text(driftInterval.high)} a day.`;
  const [least, most] = [Math.abs(driftInterval.low), Math.abs(driftInterval.high)].sort((a, b) => a - b);
  const way = driftPerDay < 0 ? 'falls' : 'rises';
  return `It ${way} by ${text(Math.abs(driftPerDay))} a day (${text(least ?? 0)} to ${text(most ?? 0)}).`;
}

/** When a limit is reached, and between which days. */
export function reachedWords(
  { limit, side, atMs, earliestMs, latestMs }: Reached,
  how: { text: Text; date: (ms: number) => string; lastMs: number },
): string {
  const { text, date, lastMs } = how;
  const name = `${side === 'lower' ? 'low' : 'high'} limit, ${text(limit)}`;
  if (atMs !== null && atMs <= lastMs) return `The line has passed the ${name}, already.`;
  if (atMs === null && earliestMs === null)
    return `The ${name}, is not reached in any time that can be looked into.`;
  if (atMs === null)
    return `The ${name}: perhaps from ${date(earliestMs ?? 0)} on, if the drift is at the edge of its interval.`;
  const [earliest, latest] = [date(earliestMs ?? atMs), date(latestMs ?? atMs)];
  const between =
    latestMs === null
      ? `not before ${earliest}; the results allow that it never comes`
      : earliest === latest
        ? 'the results leave less than a day open'
        : `between ${earliest} and ${latest}`;
  return `The ${name}, is reached on ${date(atMs)}: ${between}.`;
}
