import {
  CalcError,
  type ChartRuleName,
  cusumChart,
  type CusumChart,
  type EwmaChart,
  ewmaChart,
  individualsChart,
  NELSON_RULES,
  ruleViolations,
  WESTERN_ELECTRIC_RULES,
} from '@huelot/calc';

export type ChartKind = 'individuals' | 'ewma' | 'cusum';
export type RuleSet = 'nelson' | 'western-electric';

/** Places of a series, both ends included. */
export interface IndexRange {
  from: number;
  to: number;
}

export interface ControlSeries {
  values: readonly number[];
  /** The run each point belongs to: nothing is compared across runs. */
  run: readonly number[];
}

/** What a chart says about a point, under the number of its source. */
export interface Signal {
  rule: ChartRuleName | 'EWMA' | 'CUSUM';
  place: number;
  /** The first point of the pattern. */
  from: number;
  meaning: string;
  source: string;
}

export interface ControlLimits {
  centre: number;
  sigma: number;
  lower: number;
  upper: number;
  rangeMean: number;
  rangeUpper: number;
}

export interface ControlChart {
  limits: ControlLimits;
  averages: EwmaChart | null;
  sums: CusumChart | null;
  /** The decision interval of the sums. */
  decision: number;
  signals: ReadonlyMap<number, readonly Signal[]>;
}

/** Weight of the newest value in the moving average, and how the sums are set in standard deviations. */
export const EWMA_WEIGHT = 0.2;
export const CUSUM_ALLOWANCE_SIGMAS = 0.5;
export const CUSUM_DECISION_SIGMAS = 5;
/** So many results set provisional limits: 20 to 30 is common practice, no source. */
const PROVISIONAL_POINTS = 25;

/** Places at which a new run begins. */
export const restartsOf = (run: readonly number[]): number[] =>
  run.flatMap((one, place) => (place === 0 || one !== run[place - 1] ? [place] : []));

/**
 * Runs that end with their fill, and with every moment at which the bath was changed on purpose: a step that somebody
 * made says nothing about how results scatter.
 *
 * @example
 * runsBetween({ atMs: [1, 2, 3], fill: [0, 0, 0], changesAtMs: [2.5] }) // [0, 0, 1]
 */
export function runsBetween({
  atMs,
  fill,
  changesAtMs,
}: {
  atMs: readonly number[];
  fill: readonly number[];
  changesAtMs: readonly number[];
}): number[] {
  let run = 0;
  let change = 0;
  return atMs.map((at, place) => {
    let changed = false;
    while ((changesAtMs[change] ?? Infinity) <= at) [change, changed] = [change + 1, true];
    if (place > 0 && (changed || fill[place] !== fill[place - 1])) run++;
    return run;
  });
}

/** The same as a set, for whoever asks place by place. */
export const restartSet = (run: readonly number[]): ReadonlySet<number> => new Set(restartsOf(run));

export const noSignals: ReadonlyMap<number, readonly Signal[]> = new Map();

/** Difference from the result before in the same run. */
export const movingRanges = ({ values, run }: ControlSeries): (number | null)[] =>
  values.map((value, place) =>
    place > 0 && run[place] === run[place - 1] ? Math.abs(value - (values[place - 1] ?? value)) : null,
  );

/** The points that set limits while nobody has chosen any: the first of the latest fill that has two or more. */
export function provisionalBaseline(fill: readonly number[]): IndexRange | null {
  const starts = restartsOf(fill);
  for (let at = starts.length - 1; at >= 0; at--) {
    const from = starts[at] ?? 0;
    const end = (starts[at + 1] ?? fill.length) - 1;
    if (end > from) return { from, to: Math.min(end, from + PROVISIONAL_POINTS - 1) };
  }
  return null;
}

/**
 * Control limits from the moving range of a stretch, as the NIST/SEMATECH e-Handbook reckons them (6.3.2.2), or why there
 * are none.
 *
 * @example
 * controlLimits({ values: [0.50, 0.51, 0.49], run: [0, 0, 0] }, { from: 0, to: 2 }) // { limits: { centre: 0.5, ... } }
 */
export function controlLimits(
  { values, run }: ControlSeries,
  { from, to }: IndexRange,
): { limits: ControlLimits } | { fault: string } {
  const part = run.slice(from, to + 1);
  try {
    const chart = individualsChart({
      values: values.slice(from, to + 1),
      restarts: restartsOf(part),
    });
    if (chart.sigma === 0)
      return { fault: 'All results of the baseline are the same, so there is no scatter to set limits by.' };
    const { centre, sigma, lower, upper, movingRangeMean, movingRangeUpper } = chart;
    return {
      limits: { centre, sigma, lower, upper, rangeMean: movingRangeMean, rangeUpper: movingRangeUpper },
    };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return {
      fault:
        'Limits need two successive results with nothing done to the bath between them. Compare across additions, or choose another baseline.',
    };
  }
}

/** Everything the chosen chart says, by the limits given. */
export function controlChart(
  { values, run }: ControlSeries,
  { limits, kind, rules }: { limits: ControlLimits; kind: ChartKind; rules: RuleSet },
): ControlChart {
  const { centre, sigma } = limits;
  const restarts = restartsOf(run);
  const decision = CUSUM_DECISION_SIGMAS * sigma;
  const bare = { limits, averages: null, sums: null, decision };
  if (kind === 'individuals') {
    const found = ruleViolations({
      values,
      centre,
      sigma,
      restarts,
      rules: rules === 'nelson' ? NELSON_RULES : WESTERN_ELECTRIC_RULES,
    });
    return { ...bare, signals: byPlace(found) };
  }
  if (kind === 'ewma') {
    const averages = ewmaChart({ values, target: centre, sigma, lambda: EWMA_WEIGHT, restarts });
    const found = averages.beyond.map((place): Signal => ({
      rule: 'EWMA',
      place,
      from: place,
      meaning: 'the moving average is beyond its limits',
      source: 'NIST/SEMATECH e-Handbook 6.3.2.4',
    }));
    return { ...bare, averages, signals: byPlace(found) };
  }
  const allowance = CUSUM_ALLOWANCE_SIGMAS * sigma;
  const sums = cusumChart({ values, target: centre, allowance, decision, restarts });
  const found = sums.signals.map(({ place, side }): Signal => ({
    rule: 'CUSUM',
    place,
    from: place,
    meaning: `the sum of the deviations ${side === 'high' ? 'above' : 'below'} the centre is beyond the decision interval`,
    source: 'NIST/SEMATECH e-Handbook 6.3.2.3',
  }));
  return { ...bare, sums, signals: byPlace(found) };
}

function byPlace(signals: readonly Signal[]): Map<number, Signal[]> {
  const places = new Map<number, Signal[]>();
  for (const signal of signals) places.set(signal.place, [...(places.get(signal.place) ?? []), signal]);
  return places;
}

/** The next place with a signal after one, or before it; null when there is none. */
export function nextSignal(
  signals: ReadonlyMap<number, unknown>,
  place: number,
  step: 1 | -1,
): number | null {
  const ahead = [...signals.keys()].filter((one) => (one - place) * step > 0);
  return ahead.length === 0 ? null : ahead.reduce((a, b) => ((a - b) * step < 0 ? a : b));
}

/** The places whose samples were taken between two instants; null when there are none. */
export function indexRangeBetween(atMs: readonly number[], fromMs: number, toMs: number): IndexRange | null {
  const from = atMs.findIndex((at) => at >= fromMs);
  const to = atMs.findLastIndex((at) => at <= toMs);
  return from < 0 || to < from ? null : { from, to };
}
