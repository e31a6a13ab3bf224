import type { BathChart } from '@huelot/contracts';
import type { Signal } from './control.ts';

interface Point {
  chart: BathChart;
  place: number;
  signals: readonly Signal[];
  /** What drift led to expect of it; null where nothing did. */
  expected: number | null;
  text: (value: number) => string;
  when: (atMs: number) => string;
}

/**
 * What was done to the bath after the result before a place and up to it.
 *
 * @example
 * doneBefore(chart, 12).map(({ words }) => words) // ['added 3.2 kg KOH']
 */
export function doneBefore(chart: BathChart, place: number): BathChart['events'] {
  const { atMs } = chart.points;
  const from = atMs[place - 1] ?? -Infinity;
  const to = atMs[place] ?? -Infinity;
  return chart.events.filter((event) => event.atMs > from && event.atMs <= to);
}

/** How a rule is called: by its number in its source. */
export const ruleName = ({ rule }: Signal): string =>
  rule.startsWith('N')
    ? `Nelson test ${rule.slice(1)}`
    : rule.startsWith('W')
      ? `Western Electric test ${rule.slice(1)}`
      : rule === 'EWMA'
        ? 'Moving average'
        : 'Cumulative sum';

/** Which results make the pattern. */
export function patternWords(signal: Signal, when: Point['when'], atMs: readonly number[]): string {
  const points = signal.place - signal.from + 1;
  if (points <= 1) return signal.meaning;
  return `${signal.meaning}; from ${when(atMs[signal.from] ?? 0)} on`;
}

/** One sentence for whoever walks the points by keys. */
export function pointInWords({ chart, place, signals, expected, text, when }: Point): string {
  const { atMs, value, fill } = chart.points;
  const fillNumber = chart.fills[fill[place] ?? -1]?.number ?? '';
  const standing =
    signals.length === 0
      ? 'no rule broken'
      : signals.map((signal) => `${ruleName(signal)}: ${signal.meaning}`).join('; ');
  const beside = expected === null ? '' : ` (expected ${text(expected)})`;
  return `Result ${place + 1} of ${atMs.length}: ${text(value[place] ?? 0)}${beside}, ${when(atMs[place] ?? 0)}, fill ${fillNumber}; ${standing}.`;
}

export type EventKind = BathChart['events'][number]['kind'];

export const eventNames: Record<EventKind, string> = {
  'make-up': 'made up',
  chemical: 'chemical added',
  water: 'water topped up',
  decant: 'decanted',
  filter: 'filtered',
  dye: 'dye added',
  electrode: 'electrodes changed',
  dump: 'dumped',
};

/** Where a record about an event is read. */
export const eventHref = ({ kind, id }: BathChart['events'][number], bathId: number): string =>
  kind === 'make-up' || kind === 'dump' ? `/lab/baths/${bathId}` : `/lab/additions/${id}`;

/** What changes how strong a bath is, so that a drift is not read across it. */
export const changesStrength = (kind: EventKind): boolean =>
  kind === 'chemical' || kind === 'dye' || kind === 'decant' || kind === 'make-up' || kind === 'water';
