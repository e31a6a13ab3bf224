import type { BathChart } from '@huelot/contracts';
import type { Signal } from './control.ts';

interface Words {
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
export function patternWords(signal: Signal, when: Words['when'], atMs: readonly number[]): string {
  const points = signal.place - signal.from + 1;
  if (points <= 1) return signal.meaning;
  return `${signal.meaning}; looked at from ${when(atMs[signal.from] ?? 0)} on`;
}

/** One sentence for whoever walks the points by keys. */
export function pointInWords(
  given: { chart: BathChart; place: number; signals: readonly Signal[] } & Words,
): string {
  const { chart, place, signals, text, when } = given;
  const { atMs, value, fill } = chart.points;
  const fillNumber = chart.fills[fill[place] ?? -1]?.number ?? '';
  const standing =
    signals.length === 0
      ? 'no rule broken'
      : signals.map((signal) => `${ruleName(signal)}: ${signal.meaning}`).join('; ');
  return `Result ${place + 1} of ${atMs.length}: ${text(value[place] ?? 0)}, ${when(atMs[place] ?? 0)}, fill ${fillNumber}; ${standing}.`;
}
