/** What a level that wanders leads to expect of one observation, before it is seen. */
export interface Innovation {
  /** The observation less what was expected of it. */
  value: number;
  /** The same filter run over each driver: what one unit of its effect would add to `value`. */
  drivers: number[];
  /** Variance of `value` in units of that of the observation's own noise; above 1. */
  variance: number;
}

/**
 * Runs a series through the filter of the local level model: each observation is a level with noise, and the level
 * wanders by a random walk. Everything counts in units of the variance of the noise; `wander` is how much variance the
 * level gains in a unit of time. At each of `restarts` the level is unknown, so the first observation of a run is
 * taken as it is and has no innovation (null).
 *
 * The filter is linear: what the running totals of `drivers` (time passed, work done) explain is found afterwards from
 * the same innovations, by least squares.
 * Source: Durbin and Koopman, Time Series Analysis by State Space Methods (2001), 2.2 and 6.2.3.
 */
export function localLevel({
  values,
  times,
  drivers,
  restarts,
  wander,
}: {
  values: readonly number[];
  times: readonly number[];
  drivers: readonly (readonly number[])[];
  restarts: ReadonlySet<number>;
  wander: number;
}): (Innovation | null)[] {
  let level = 0;
  let driven: number[] = [];
  let uncertainty = 1;
  return values.map((value, index) => {
    const totals = drivers.map((driver) => driver[index] ?? NaN);
    if (restarts.has(index)) {
      [level, driven, uncertainty] = [value, totals, 1];
      return null;
    }
    const before = uncertainty + wander * ((times[index] ?? NaN) - (times[index - 1] ?? NaN));
    const variance = before + 1;
    const gain = before / variance;
    const innovation = {
      value: value - level,
      drivers: totals.map((total, k) => total - (driven[k] ?? NaN)),
      variance,
    };
    level += gain * innovation.value;
    driven = driven.map((total, k) => total + gain * (innovation.drivers[k] ?? NaN));
    uncertainty = gain;
    return innovation;
  });
}
