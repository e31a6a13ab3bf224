import { groupDigits } from '@huelot/contracts';
import { nice, tickStep, ticks } from 'd3-array';

/** Maps a domain onto pixels and says where its ticks stand; what `Axis` draws. */
export interface Scale {
  (value: number): number;
  ticks: (count: number) => number[];
  tickFormat: (count: number) => (value: number) => string;
}

/**
 * A straight scale. Ticks are those of d3-array; they are written with as many decimals as their step needs.
 *
 * @example
 * linearScale([0, 50], [0, 600])(25) // 300
 */
export function linearScale([low, high]: [number, number], [from, to]: [number, number]): Scale {
  const perUnit = high === low ? 0 : (to - from) / (high - low);
  return Object.assign((value: number) => from + (value - low) * perUnit, {
    ticks: (count: number) => ticks(low, high, count),
    tickFormat: (count: number) => {
      const step = Math.abs(tickStep(low, high, count));
      const decimals = step > 0 ? Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) : 0;
      return (value: number) => groupDigits(value.toFixed(decimals));
    },
  });
}

/**
 * A domain opened to round ends.
 *
 * @example
 * roundedDomain([0.3, 9.6], 10) // [0, 10]
 */
export const roundedDomain = ([low, high]: [number, number], count: number): [number, number] =>
  nice(low, high, count);
