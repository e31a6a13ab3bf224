import type { BathChart } from '@huelot/contracts';
import type { ChartKind, ControlChart, ControlSeries } from './control.ts';

export interface Track {
  key: string;
  y: readonly (number | null)[];
  look: 'line' | 'faint' | 'average' | 'limit' | 'range';
}

export interface Level {
  key: string;
  label: string;
  value: number;
  look: 'centre' | 'limit' | 'working' | 'stop';
}

/** One plot, in the stored unit of the component. */
export interface Panel {
  tracks: readonly Track[];
  levels: readonly Level[];
  band: { from: number; to: number } | null;
  /** Where the sign of a point stands. */
  signAt: readonly (number | null)[];
}

type Setup = BathChart['setup'];

/** The component's own limits; the chart of sums has another scale, on which they say nothing. */
function ranges(setup: Setup): { levels: Level[]; band: Panel['band'] } {
  if (!setup) return { levels: [], band: null };
  const { low, high, stopLow, stopHigh } = setup;
  const level = (key: string, value: number | null, look: Level['look']): Level[] =>
    value === null ? [] : [{ key, label: key, value, look }];
  return {
    levels: [
      ...level('work stops above', stopHigh, 'stop'),
      ...level('working high', high, 'working'),
      ...level('working low', low, 'working'),
      ...level('work stops below', stopLow, 'stop'),
    ],
    band: low !== null && high !== null ? { from: low, to: high } : null,
  };
}

const controlLevels = (lower: number, centre: number, upper: number): Level[] => [
  { key: 'upper', label: 'upper control limit', value: upper, look: 'limit' },
  { key: 'centre', label: 'centre', value: centre, look: 'centre' },
  { key: 'lower', label: 'lower control limit', value: lower, look: 'limit' },
];

/** The upper plot of the chosen kind of chart; without limits only the results and the ranges of the bath. */
export function mainPanel(given: {
  series: ControlSeries;
  chart: ControlChart | null;
  kind: ChartKind;
  setup: Setup;
}): Panel {
  const { series, chart, kind, setup } = given;
  const { values } = series;
  const own = ranges(setup);
  if (chart === null || kind === 'individuals') {
    const { limits } = chart ?? {};
    return {
      tracks: [{ key: 'result', y: values, look: 'line' }],
      levels: [...own.levels, ...(limits ? controlLevels(limits.lower, limits.centre, limits.upper) : [])],
      band: own.band,
      signAt: values,
    };
  }
  const { averages, sums, limits, decision } = chart;
  if (averages) {
    const average = averages.points.map((point) => point.average);
    return {
      tracks: [
        { key: 'result', y: values, look: 'faint' },
        { key: 'upper', y: averages.points.map(({ upper }) => upper), look: 'limit' },
        { key: 'lower', y: averages.points.map(({ lower }) => lower), look: 'limit' },
        { key: 'average', y: average, look: 'average' },
      ],
      levels: [...own.levels, ...controlLevels(averages.steadyLower, limits.centre, averages.steadyUpper)],
      band: own.band,
      signAt: average,
    };
  }
  const high = (sums?.points ?? []).map((point) => point.high);
  const low = (sums?.points ?? []).map((point) => -point.low);
  return {
    tracks: [
      { key: 'high', y: high, look: 'average' },
      { key: 'low', y: low, look: 'line' },
    ],
    levels: [
      { key: 'upper', label: 'decision interval', value: decision, look: 'limit' },
      { key: 'centre', label: 'on the centre', value: 0, look: 'centre' },
      { key: 'lower', label: 'decision interval', value: -decision, look: 'limit' },
    ],
    band: null,
    signAt: high.map((sum, place) => (sum >= -(low[place] ?? 0) ? sum : (low[place] ?? 0))),
  };
}

/** The lower plot: how far each result lies from the one before it. */
export const rangePanel = (
  ranges: readonly (number | null)[],
  limits: { rangeMean: number; rangeUpper: number } | null,
): Panel => ({
  tracks: [{ key: 'range', y: ranges, look: 'range' }],
  levels: limits
    ? [
        { key: 'upper', label: 'upper limit', value: limits.rangeUpper, look: 'limit' },
        { key: 'centre', label: 'mean', value: limits.rangeMean, look: 'centre' },
      ]
    : [],
  band: null,
  signAt: ranges,
});

/**
 * What a plot has to span: what is in view and every level, but a stop far away from both is left outside, so that it
 * does not press the points flat.
 */
export function spanOf(panel: Panel, { first, last }: { first: number; last: number }): [number, number] {
  const inView = panel.tracks.flatMap(({ y }) => y.slice(first, last + 1).filter((value) => value !== null));
  const near = panel.levels.filter(({ look }) => look !== 'stop').map(({ value }) => value);
  const all = [...inView, ...near];
  if (all.length === 0) return [0, 1];
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const reach = (high - low) * 0.6;
  const stops = panel.levels
    .filter(({ look, value }) => look === 'stop' && value > low - reach && value < high + reach)
    .map(({ value }) => value);
  return [Math.min(low, ...stops), Math.max(high, ...stops)];
}
