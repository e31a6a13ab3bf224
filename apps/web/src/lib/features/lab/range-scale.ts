import type { Limits } from '@huelot/contracts';

/** What a range bar draws, each as a share of its length from 0 to 1. */
export interface RangeScale {
  /** Position of any value, held to the bar. */
  at: (value: number) => number;
  /** Where work goes on: from the lower to the upper stop limit. */
  allowed: { from: number; to: number };
  /** The working range inside it. */
  working: { from: number; to: number };
}

/** Room beside the outermost limit, as a share of the stretch between the limits. */
const margin = 0.18;

/**
 * The scale of a bar that shows a value against its limits; null when there are none to show. A side without a limit
 * is open: the bar begins at zero, or ends a little beyond what it shows.
 *
 * @example
 * rangeScale({ value: 0.5, limits: { target: 0.5, low: 0.48, high: 0.52, stopLow: 0.46, stopHigh: 0.54 } })?.at(0.5) // 0.5
 */
export function rangeScale({ value, limits }: { value: number; limits: Limits }): RangeScale | null {
  const { target, low, high, stopLow, stopHigh } = limits;
  const given = [stopLow, low, high, stopHigh].filter((limit) => limit !== null);
  if (given.length === 0) return null;
  const openBelow = stopLow === null && low === null;
  const shown = [...given, ...(target === null ? [] : [target]), ...(openBelow ? [0] : [])];
  const least = Math.min(...shown);
  const most = Math.max(...shown);
  const span = most - least || Math.abs(most) || Math.abs(value) || 1;
  const start = openBelow ? least : least - margin * span;
  const end = most + margin * span;
  const at = (one: number) => Math.min(1, Math.max(0, (one - start) / (end - start)));
  const place = (limit: number | null, open: number) => (limit === null ? open : at(limit));
  return {
    at,
    allowed: { from: place(stopLow, 0), to: place(stopHigh, 1) },
    working: { from: place(low ?? stopLow, 0), to: place(high ?? stopHigh, 1) },
  };
}
