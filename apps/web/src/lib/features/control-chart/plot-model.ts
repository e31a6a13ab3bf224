import { type SystemOfUnits, toDisplay } from '@huelot/calc';
import { type BathChart, type ComponentUnit, groupDigits } from '@huelot/contracts';
import { quantityOf, uncertainResultText, unitSymbol } from '$lib/features/lab/result-text.ts';
import type { ChartKind, ControlChart, ControlSeries } from './control.ts';

/** How the figures of one component are drawn and written for one person. */
export interface ComponentScale {
  /** The unit as printed; empty for pH and judgements. */
  symbol: string;
  /** A stored figure in the unit shown, not rounded. */
  inUnit: (value: number) => number;
  /** With its unit, and with what covers about 95 % where its standard uncertainty is given. */
  text: (value: number, standardUncertainty?: number) => string;
  /** To three significant figures, for differences that the usual decimals would swallow. */
  fine: (value: number) => string;
}

/**
 * The scale of a component's figures in the units of the person.
 *
 * @example
 * componentScale({ unit: 'massFraction', system: 'metric' }).inUnit(0.4912) // 49.12
 */
export function componentScale({
  unit,
  system,
}: {
  unit: ComponentUnit;
  system: SystemOfUnits;
}): ComponentScale {
  const quantity = quantityOf(unit);
  const symbol = unitSymbol(unit, system);
  // Every unit of a component is a multiple of the stored one, and thousands of points are drawn at once.
  const perStored = quantity ? toDisplay({ quantity, value: 1, system }).value : 1;
  const inUnit = (value: number) => value * perStored;
  return {
    symbol,
    inUnit,
    text: (value, standardUncertainty) => uncertainResultText({ unit, system, value, standardUncertainty }),
    fine: (value) =>
      groupDigits(String(Number(inUnit(value).toPrecision(3)))) + (symbol && `\u00a0${symbol}`),
  };
}

export interface Series {
  key: string;
  y: readonly (number | null)[];
  style: 'line' | 'faint' | 'average' | 'expected' | 'limit' | 'range';
}

export interface ReferenceLine {
  key: string;
  label: string;
  value: number;
  style: 'centre' | 'limit' | 'working' | 'stop';
}

/** One plot, in the stored unit of the component. */
export interface Panel {
  series: readonly Series[];
  referenceLines: readonly ReferenceLine[];
  band: { from: number; to: number } | null;
  /** Where the marker of a point stands. */
  markerY: readonly (number | null)[];
}

type Setup = BathChart['setup'];

/** The component's own limits; the chart of sums has another scale, on which they say nothing. */
function ranges(setup: Setup): { referenceLines: ReferenceLine[]; band: Panel['band'] } {
  if (!setup) return { referenceLines: [], band: null };
  const { low, high, stopLow, stopHigh } = setup;
  const line = (key: string, value: number | null, style: ReferenceLine['style']): ReferenceLine[] =>
    value === null ? [] : [{ key, label: key, value, style }];
  return {
    referenceLines: [
      ...line('stop limit, high', stopHigh, 'stop'),
      ...line('working range, high', high, 'working'),
      ...line('working range, low', low, 'working'),
      ...line('stop limit, low', stopLow, 'stop'),
    ],
    band: low !== null && high !== null ? { from: low, to: high } : null,
  };
}

const controlLines = (lower: number, centre: number, upper: number): ReferenceLine[] => [
  { key: 'upper', label: 'upper control limit', value: upper, style: 'limit' },
  { key: 'centre', label: 'centre', value: centre, style: 'centre' },
  { key: 'lower', label: 'lower control limit', value: lower, style: 'limit' },
];

/** The upper plot of the chosen kind of chart; without limits only the results and the ranges of the bath. */
export function mainPanel({
  series: { values },
  chart,
  kind,
  setup,
}: {
  series: ControlSeries;
  chart: ControlChart | null;
  kind: ChartKind;
  setup: Setup;
}): Panel {
  const own = ranges(setup);
  if (chart === null || kind === 'individuals') {
    const { limits } = chart ?? {};
    return {
      series: [{ key: 'result', y: values, style: 'line' }],
      referenceLines: [
        ...own.referenceLines,
        ...(limits ? controlLines(limits.lower, limits.centre, limits.upper) : []),
      ],
      band: own.band,
      markerY: values,
    };
  }
  const { averages, sums, limits, decision } = chart;
  if (averages) {
    const average = averages.points.map((point) => point.average);
    return {
      series: [
        { key: 'result', y: values, style: 'faint' },
        { key: 'upper', y: averages.points.map(({ upper }) => upper), style: 'limit' },
        { key: 'lower', y: averages.points.map(({ lower }) => lower), style: 'limit' },
        { key: 'average', y: average, style: 'average' },
      ],
      referenceLines: [
        ...own.referenceLines,
        ...controlLines(averages.steadyLower, limits.centre, averages.steadyUpper),
      ],
      band: own.band,
      markerY: average,
    };
  }
  const high = (sums?.points ?? []).map((point) => point.high);
  const low = (sums?.points ?? []).map((point) => -point.low);
  return {
    series: [
      { key: 'high', y: high, style: 'average' },
      { key: 'low', y: low, style: 'line' },
    ],
    referenceLines: [
      { key: 'upper', label: 'decision interval', value: decision, style: 'limit' },
      { key: 'centre', label: 'on the centre', value: 0, style: 'centre' },
      { key: 'lower', label: 'decision interval', value: -decision, style: 'limit' },
    ],
    band: null,
    markerY: high.map((sum, place) => (sum >= -(low[place] ?? 0) ? sum : (low[place] ?? 0))),
  };
}

/** The lower plot: how far each result lies from the one before it. */
export const rangePanel = (
  ranges: readonly (number | null)[],
  limits: { rangeMean: number; rangeUpper: number } | null,
): Panel => ({
  series: [{ key: 'range', y: ranges, style: 'range' }],
  referenceLines: limits
    ? [
        { key: 'upper', label: 'upper limit', value: limits.rangeUpper, style: 'limit' },
        { key: 'centre', label: 'mean', value: limits.rangeMean, style: 'centre' },
      ]
    : [],
  band: null,
  markerY: ranges,
});

/**
 * What a plot has to span: the results in view and every reference line, but a stop far away from both is left outside, so that it
 * does not press the points flat.
 */
export function spanOf(panel: Panel, { first, last }: { first: number; last: number }): [number, number] {
  const inView = panel.series.flatMap(({ y }) => y.slice(first, last + 1).filter((value) => value !== null));
  const near = panel.referenceLines.filter(({ style }) => style !== 'stop').map(({ value }) => value);
  const all = [...inView, ...near];
  if (all.length === 0) return [0, 1];
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const reach = (high - low) * 0.6;
  const stops = panel.referenceLines
    .filter(({ style, value }) => style === 'stop' && value > low - reach && value < high + reach)
    .map(({ value }) => value);
  return [Math.min(low, ...stops), Math.max(high, ...stops)];
}
