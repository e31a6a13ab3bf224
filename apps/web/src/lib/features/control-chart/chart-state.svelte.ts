import type { BathChart, BathPage, BathWork } from '@huelot/contracts';
import { bisectLeft } from 'd3-array';
import { session } from '$lib/session.svelte.ts';
import { format } from '$lib/format/format.ts';
import { DAY_MS } from '$lib/format/time.ts';
import { componentScale, mainPanel, rangePanel } from './plot-model.ts';
import {
  type ChartKind,
  controlChart,
  controlLimits,
  movingRanges,
  nextSignal,
  provisionalBaseline,
  restartSet,
  runsBetween,
  noSignals,
  type RuleSet,
  type IndexRange,
  indexRangeBetween,
} from './control.ts';
import { changesStrength, pointInWords } from './chart-labels.ts';
import { driftControlChart, driftOf } from './drift-judgement.ts';
import { driftPanel } from './drift-panel.ts';
import { type DriftForecast, type ForecastFrom, limitForecast } from './drift-forecast.ts';
import { shopClocks, isoOf, moved, scaled, showing, type View, within } from './time-axis.ts';

/** So many results stand in the first view. */
const FIRST_VIEW = 60;
/** How far the time line runs on past the last result, and at most to show a forecast, in widths of the first view. */
const AHEAD_SHARE = 0.08;
const MAX_AHEAD_SHARE = 0.8;

export type Comparison = 'drift' | 'between-additions' | 'across-additions';
interface Data {
  chart: BathChart;
  page: BathPage;
  work: BathWork;
}

/** What one person looks at: a component's results, drawn and judged as chosen. */
export class ChartState {
  kind = $state<ChartKind>('individuals');
  rules = $state<RuleSet>('nelson');
  forecastFrom = $state<ForecastFrom>('addition');
  /** With what a result is compared: what drift leads to expect, or the centre, across additions or between them. */
  compared = $state<Comparison>('drift');
  /** A baseline that is not saved yet. */
  proposed = $state.raw<IndexRange | null>(null);
  chosen = $state<number | null>(null);
  dragMode = $state<'zoom' | 'baseline'>('zoom');
  #view = $state.raw<View | null>(null);
  readonly #data: () => Data;

  constructor(data: () => Data) {
    this.#data = data;
    const { chart, page } = data();
    // What grows in a bath is not changed by what is added to keep its strength.
    if (page.setup?.impurity?.component === chart.component) this.forecastFrom = 'fill';
  }

  readonly chart = $derived.by(() => this.#data().chart);
  readonly name = $derived.by(
    () =>
      this.chart.setup?.name ??
      this.chart.components.find(({ key }) => key === this.chart.component)?.name ??
      this.chart.component,
  );
  readonly scale = $derived.by(() => {
    const { latest } = this.#data().page;
    const unit =
      this.chart.setup?.unit ?? latest.find(({ component }) => component === this.chart.component)?.unit;
    return componentScale({ unit: unit ?? 'ntu', system: session.units });
  });
  readonly #changesAtMs = $derived.by(() =>
    this.chart.events.filter(({ kind }) => changesStrength(kind)).map(({ atMs }) => atMs),
  );
  readonly series = $derived.by(() => ({
    values: this.chart.points.value,
    run: runsBetween({
      ...this.chart.points,
      changesAtMs: this.compared === 'across-additions' ? [] : this.#changesAtMs,
    }),
  }));
  readonly clocks = $derived.by(() =>
    shopClocks({ atMs: this.chart.points.atMs, timeZone: session.timeZone }),
  );
  readonly restarts = $derived.by(() => restartSet(this.chart.points.fill));

  readonly saved = $derived.by(() => {
    const { baseline, points } = this.chart;
    return baseline && indexRangeBetween(points.atMs, Date.parse(baseline.from), Date.parse(baseline.to));
  });
  readonly baseline = $derived.by(
    () => this.proposed ?? this.saved ?? provisionalBaseline(this.chart.points.fill),
  );
  /** What the drift of the bath leads to expect; null when results are compared with a centre. */
  readonly #drift = $derived.by(() => {
    if (this.compared !== 'drift' || this.baseline === null) return null;
    const { chart, series, baseline } = this;
    return driftOf({ points: chart.points, work: this.#data().work, run: series.run, baseline });
  });
  readonly drift = $derived.by(() => (this.#drift !== null && 'points' in this.#drift ? this.#drift : null));
  readonly #limits = $derived.by(() => {
    if (this.baseline === null)
      return { fault: 'Limits need two results in one bath; until then results are shown without limits.' };
    return this.#drift ?? controlLimits(this.series, this.baseline);
  });
  /** Why nothing is judged; null when something is. */
  readonly fault = $derived.by(() => ('fault' in this.#limits ? this.#limits.fault : null));
  /** The limits about a centre; null where there are none, or where each result has its own. */
  readonly limits = $derived.by(() => ('limits' in this.#limits ? this.#limits.limits : null));
  readonly control = $derived.by(() => {
    const { kind, rules, drift, limits } = this;
    if (drift) return driftControlChart(drift, { fills: this.chart.points.fill, kind, rules });
    return limits && controlChart(this.series, { limits, kind, rules });
  });
  readonly signals = $derived.by(() => this.control?.signals ?? noSignals);
  readonly panel = $derived.by(() => {
    const { series, control: chart, kind, drift } = this;
    const { setup } = this.chart;
    return drift && chart
      ? driftPanel({ values: series.values, drift, chart, kind, setup })
      : mainPanel({ series, chart, kind, setup });
  });
  readonly ranges = $derived.by(() =>
    this.kind === 'individuals' && this.drift === null
      ? rangePanel(movingRanges(this.series), this.control?.limits ?? null)
      : null,
  );

  readonly events = $derived.by(() => {
    const clocks = this.#clocksOf(this.chart.events.map(({ atMs }) => atMs));
    return this.chart.events.map((event, index) => ({ event, clock: clocks[index] ?? 0 }));
  });
  readonly fills = $derived.by(() => {
    const clocks = this.#clocksOf(this.chart.fills.map(({ madeUpAt }) => Date.parse(madeUpAt)));
    return this.chart.fills.map(({ number }, index) => ({ number, clock: clocks[index] ?? 0 }));
  });

  readonly forecast = $derived.by(() => {
    if (this.forecastFrom !== 'view') return this.#steadyForecast;
    // By places and not by instants: the view runs on the shop's clock.
    const first = bisectLeft(this.clocks, this.view[0]);
    return this.#forecastSince(this.chart.points.atMs[first] ?? Infinity);
  });
  /** A forecast that does not change with what is looked at, so that the time line may reach as far. */
  readonly #steadyForecast = $derived.by(() => this.#forecastSince(-Infinity));

  #forecastSince(viewFromMs: number): DriftForecast | { fault: string } {
    const { setup, points, fills } = this.chart;
    if (fills[points.fill.at(-1) ?? -1]?.dumpedAt !== null)
      return { fault: 'The latest bath with results was dumped, so there is nothing to forecast.' };
    return limitForecast({
      ...points,
      values: points.value,
      changesAtMs: this.#changesAtMs,
      from: this.forecastFrom,
      viewFromMs,
      lower: setup?.low ?? setup?.stopLow ?? null,
      upper: setup?.high ?? setup?.stopHigh ?? null,
    });
  }

  /** The line of the forecast as it is drawn, on the clock and in the unit shown. */
  readonly forecastMark = $derived.by(() => {
    const { forecast, scale } = this;
    if ('fault' in forecast || this.kind === 'cusum') return null;
    const met = forecast.reached.find(({ atMs }) => atMs !== null && atMs > forecast.last.atMs);
    const { atMs, value } = forecast.last;
    const ahead = met?.atMs ?? atMs + (this.whole[1] - this.whole[0]);
    const days = (ahead - atMs) / DAY_MS;
    const end = { atMs: ahead, value: met?.limit ?? value + days * forecast.drift.driftPerDay };
    const [from = 0, to = 0, earliest = 0, latest = 0] = this.#clocksOf([
      atMs,
      end.atMs,
      met?.earliestMs ?? end.atMs,
      met?.latestMs ?? end.atMs,
    ]);
    return {
      from: { clock: from, value: scale.inUnit(value) },
      to: { clock: to, value: scale.inUnit(end.value) },
      interval: met
        ? {
            level: scale.inUnit(met.limit),
            earliest,
            latest: met.latestMs === null ? null : latest,
          }
        : null,
      above: met?.side === 'upper',
      words: met?.atMs ? `reached ${format.date(isoOf(met.atMs))}` : '',
    };
  });

  /** How far past the last result a forecast is worth drawing, by the shop's clock; nothing where there is none. */
  readonly #forecastEnd = $derived.by(() => {
    if (this.forecastFrom === 'view' || 'fault' in this.#steadyForecast) return -Infinity;
    const { reached, last } = this.#steadyForecast;
    const met = reached.find(({ atMs }) => atMs !== null && atMs > last.atMs);
    return this.#clocksOf([met?.latestMs ?? met?.atMs ?? last.atMs])[0] ?? -Infinity;
  });
  readonly #firstView = $derived.by((): View => {
    const { clocks } = this;
    const last = clocks.at(-1) ?? 0;
    const first = clocks[Math.max(0, clocks.length - FIRST_VIEW)] ?? last;
    const span = Math.max(last - first, DAY_MS);
    const ahead = Math.min(Math.max(this.#forecastEnd - last, 0) * 1.1, span * MAX_AHEAD_SHARE);
    return [first - span * 0.03, last + Math.max(ahead, span * AHEAD_SHARE)];
  });
  readonly whole = $derived.by((): View => {
    const first = this.clocks[0] ?? 0;
    const [start, end] = this.#firstView;
    return [Math.min(start, first - (end - first) * 0.02), end];
  });
  readonly view = $derived.by((): View => within(this.#view ?? this.#firstView, this.whole));

  readonly chosenWords = $derived.by(() =>
    this.chosen === null
      ? `${this.chart.points.atMs.length} results; use the arrow keys to step through them`
      : pointInWords({
          chart: this.chart,
          place: this.chosen,
          signals: this.signals.get(this.chosen) ?? [],
          expected: this.drift?.points[this.chosen]?.expected ?? null,
          text: this.scale.text,
          when: this.when,
        }),
  );

  /** Area that went through between the result before and this one. */
  workBefore(place: number): number {
    const { analysisId, areaM2 } = this.#data().work;
    return areaM2[analysisId.indexOf(this.chart.points.analysisId[place] ?? NaN)] ?? 0;
  }

  readonly when = (atMs: number): string => format.dateTime(isoOf(atMs));

  #clocksOf(atMs: readonly number[]): number[] {
    return shopClocks({ atMs, timeZone: session.timeZone });
  }

  setView(view: View) {
    this.#view = view;
  }

  zoom(factor: number) {
    const at = this.chosen === null ? undefined : this.clocks[this.chosen];
    this.setView(within(scaled(this.view, factor, at), this.whole));
  }

  move(share: number) {
    this.setView(within(moved(this.view, share), this.whole));
  }

  showAll() {
    this.setView(this.whole);
  }

  showLatest() {
    this.#view = null;
  }

  choose(place: number) {
    const last = this.clocks.length - 1;
    if (last < 0) return;
    this.chosen = Math.min(last, Math.max(0, place));
    const { view } = this;
    const next = showing(view, this.clocks[this.chosen] ?? 0);
    if (next !== view) this.setView(within(next, this.whole));
  }

  /** A stretch of the time line drawn with the pointer. */
  drag(stretch: View) {
    if (this.dragMode === 'zoom') return this.setView(within(stretch, this.whole));
    this.proposed = indexRangeBetween(this.clocks, stretch[0], stretch[1]);
  }

  /** The chosen point as the first or the last of the baseline. */
  setBaselineBound(end: 'from' | 'to') {
    if (this.chosen === null) return;
    const now = this.baseline ?? { from: this.chosen, to: this.chosen };
    const next = { ...now, [end]: this.chosen };
    this.proposed = next.from <= next.to ? next : { from: this.chosen, to: this.chosen };
  }

  /** Walks by key; whether the key meant anything. */
  handleKey(name: string): boolean {
    const last = this.clocks.length - 1;
    const here = this.chosen ?? last + 1;
    const flagged = (step: 1 | -1) => {
      const place = nextSignal(this.signals, this.chosen ?? (step > 0 ? -1 : last + 1), step);
      if (place !== null) this.choose(place);
    };
    const moves: Record<string, () => void> = {
      ArrowLeft: () => this.choose(here - 1),
      ArrowRight: () => this.choose(this.chosen === null ? last : here + 1),
      PageUp: () => this.choose(here - 10),
      PageDown: () => this.choose(here + 10),
      Home: () => this.choose(0),
      End: () => this.choose(last),
      ArrowUp: () => flagged(1),
      ArrowDown: () => flagged(-1),
      '+': () => this.zoom(0.5),
      '-': () => this.zoom(2),
      '0': () => this.showAll(),
      Escape: () => (this.chosen = null),
    };
    const move = moves[name];
    move?.();
    return move !== undefined;
  }
}
