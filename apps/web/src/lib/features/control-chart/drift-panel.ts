import type { BathChart } from '@huelot/contracts';
import type { ChartKind, ControlChart } from './control.ts';
import { type Drift, overAllPlaces, residualsOf } from './drift-judgement.ts';
import { mainPanel, type Panel } from './plot-model.ts';

/** Three standard deviations, as the limits of every chart here. */
export const REACH = 3;

/**
 * The upper plot of a chart that takes the drift out: single results beside what was expected of each, and the averages
 * and sums of what is left.
 */
export function driftPanel({
  values,
  drift,
  chart,
  kind,
  setup,
}: {
  values: readonly number[];
  drift: Drift;
  chart: ControlChart;
  kind: ChartKind;
  setup: BathChart['setup'];
}): Panel {
  const plain = mainPanel({ series: { values, run: [] }, chart: null, kind, setup });
  if (kind === 'individuals') {
    const limit = (sign: 1 | -1) =>
      drift.points.map((point) => point && point.expected + sign * REACH * point.standardDeviation);
    return {
      ...plain,
      series: [
        ...plain.series,
        { key: 'expected', y: drift.points.map((point) => point && point.expected), style: 'expected' },
        { key: 'upper', y: limit(1), style: 'limit' },
        { key: 'lower', y: limit(-1), style: 'limit' },
      ],
    };
  }
  const judged = mainPanel({ series: { values: [], run: [] }, chart, kind, setup: null });
  const over = (y: readonly (number | null)[]) => overAllPlaces(drift, y);
  return {
    ...judged,
    series: judged.series.map((one) => ({
      ...one,
      y: one.key === 'result' ? residualsOf(drift) : over(one.y),
    })),
    markerY: over(judged.markerY),
  };
}
