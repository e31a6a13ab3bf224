import { DAY_MS } from '../format/time.ts';
import { scaleUtc } from 'd3-scale';
import type { Scale } from './linear-scale.ts';

/**
 * A scale of a clock read as if it were UTC (see `shopClock`), with ticks at round days or hours of that clock.
 *
 * @example
 * calendarScale([Date.UTC(2026, 2, 1), Date.UTC(2026, 2, 31)], 600).tickFormat(4)(Date.UTC(2026, 2, 8)) // '8 Mar'
 */
export function calendarScale(domain: [number, number], width: number): Scale {
  const scale = scaleUtc(domain, [0, width]);
  const long = domain[1] - domain[0] > 2 * DAY_MS;
  const write = new Intl.DateTimeFormat(
    'en-GB',
    long
      ? { timeZone: 'UTC', day: 'numeric', month: 'short' }
      : { timeZone: 'UTC', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' },
  );
  return Object.assign((value: number) => scale(value), {
    ticks: (count: number) => scale.ticks(count).map(Number),
    tickFormat: () => (value: number) => write.format(value),
  });
}
