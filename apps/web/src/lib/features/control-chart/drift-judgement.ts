import { CalcError, type DriftChart, driftChart, type ExpectedResult } from '@huelot/calc';
import type { BathChart, BathWork } from '@huelot/contracts';
import { DAY_MS } from '$lib/format/time.ts';
import {
  type ChartKind,
  controlChart,
  type ControlChart,
  type IndexRange,
  restartsOf,
  type RuleSet,
} from './control.ts';

/** What the drift of a bath leads to expect of its results, place by place of the whole chart. */
export interface Drift extends Omit<DriftChart, 'points'> {
  points: readonly (ExpectedResult | null)[];
  /** The first place that is judged; before it nobody counted what went through. */
  first: number;
}

/** The drift of the points whose work is known, found from the baseline; or why it cannot be told. */
export function driftOf({
  points,
  work,
  run,
  baseline,
}: {
  points: BathChart['points'];
  work: BathWork;
  run: readonly number[];
  baseline: IndexRange;
}): Drift | { fault: string } {
  const first = points.analysisId.indexOf(work.analysisId[0] ?? NaN);
  const part = { from: baseline.from - first, to: baseline.to - first };
  if (first < 0 || part.from < 0)
    return {
      fault:
        'What went through the bath is counted from a later day on than this baseline. Save it, or compare in another way.',
    };
  const samples = points.value.slice(first).map((value, index) => ({
    day: (points.atMs[first + index] ?? NaN) / DAY_MS,
    value,
    workM2: work.areaM2[index] ?? 0,
  }));
  try {
    const chart = driftChart({ samples, restarts: restartsOf(run.slice(first)), baseline: part });
    return { ...chart, first, points: [...Array<null>(first).fill(null), ...chart.points] };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return {
      fault:
        'The baseline has too few results, or results that do not differ, to tell drift from scatter. Choose a longer baseline, or compare in another way.',
    };
  }
}

/**
 * The chosen chart of what is left when drift is taken out. Patterns reach across additions, since each result is compared
 * with what is expected of it, and end with the fill.
 */
export function driftControlChart(
  drift: Drift,
  { fills, kind, rules }: { fills: readonly number[]; kind: ChartKind; rules: RuleSet },
): ControlChart {
  const { sigma } = drift;
  const places = drift.points.flatMap((point, place) => (point === null ? [] : [place]));
  const residuals = residualsOf(drift);
  const chart = controlChart(
    {
      values: places.map((place) => residuals[place] ?? NaN),
      run: places.map((place) => fills[place] ?? NaN),
    },
    {
      limits: { centre: 0, sigma, lower: -3 * sigma, upper: 3 * sigma, rangeMean: 0, rangeUpper: 0 },
      kind,
      rules,
    },
  );
  const placeOf = (index: number) => places[index] ?? NaN;
  return {
    ...chart,
    signals: new Map(
      [...chart.signals].map(([index, signals]) => [
        placeOf(index),
        signals.map((signal) => ({ ...signal, place: placeOf(signal.place), from: placeOf(signal.from) })),
      ]),
    ),
  };
}

/** What is left, in the unit of the results: each in its own standard deviations, times the usual one. */
export const residualsOf = ({ points, sigma }: Drift): (number | null)[] =>
  points.map((point) => point && point.residual * sigma);

/** Values of the judged places only, laid out over all of them. */
export function overAllPlaces(drift: Drift, values: readonly (number | null)[]): (number | null)[] {
  let next = 0;
  return drift.points.map((point) => (point === null ? null : (values[next++] ?? null)));
}
