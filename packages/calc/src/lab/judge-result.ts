import { checkFinite } from '../check.ts';
import type { LabUnit } from './readings.ts';

/** Aim, working range, and the range outside which work stops; any may be absent. */
export interface ResultLimits {
  target: number | null;
  low: number | null;
  high: number | null;
  stopLow: number | null;
  stopHigh: number | null;
}

export type ResultState = 'in-range' | 'watch' | 'stop' | 'no-limits';

/** Standard uncertainties that a result is believed within: two, about 95 %. */
const coverage = 2;

/**
 * How a result stands in its limits: `stop` outside the stop range; `watch` outside the working range, or so close to a
 * stop limit that two standard uncertainties reach it; otherwise `in-range`. A value on a limit is inside.
 *
 * Valid for any unit. Source: coverage factor 2, the usual expanded uncertainty of about 95 %. Errors: `not-finite`.
 *
 * @example
 * judgeResult({
 *   value: 0.487,
 *   standardUncertainty: 0.004,
 *   limits: { target: 0.5, low: 0.48, high: 0.52, stopLow: 0.48, stopHigh: 0.54 },
 * })
 * // { state: 'watch', because: 'cannot be told from its stop limit' }
 */
export function judgeResult(input: {
  value: number;
  standardUncertainty: number | null;
  limits: ResultLimits;
}): { state: ResultState; because: string; limit: number | null } {
  checkFinite('', input);
  const { value, limits } = input;
  const { low, high, stopLow, stopHigh } = limits;
  if ([low, high, stopLow, stopHigh].every((limit) => limit === null))
    return { state: 'no-limits', because: 'has no limits', limit: null };
  const reach = coverage * (input.standardUncertainty ?? 0);
  if (stopLow !== null && value < stopLow)
    return { state: 'stop', because: 'is below its stop limit', limit: stopLow };
  if (stopHigh !== null && value > stopHigh)
    return { state: 'stop', because: 'is above its stop limit', limit: stopHigh };
  if (low !== null && value < low)
    return { state: 'watch', because: 'is below its working range', limit: low };
  if (high !== null && value > high)
    return { state: 'watch', because: 'is above its working range', limit: high };
  const near = 'cannot be told from its stop limit';
  if (stopLow !== null && value - reach < stopLow) return { state: 'watch', because: near, limit: stopLow };
  if (stopHigh !== null && value + reach > stopHigh)
    return { state: 'watch', because: near, limit: stopHigh };
  return { state: 'in-range', because: 'is in its working range', limit: null };
}

const unitWords: Readonly<Record<LabUnit, { factor: number; symbol: string }>> = {
  massFraction: { factor: 100, symbol: ' wt%' },
  gramsPerLitre: { factor: 1, symbol: ' g/L' },
  molPerLitre: { factor: 1, symbol: ' mol/L' },
  pH: { factor: 1, symbol: '' },
  siemensPerM: { factor: 10, symbol: ' mS/cm' },
  ntu: { factor: 1, symbol: ' NTU' },
  judgement: { factor: 1, symbol: '' },
};

/**
 * A figure with its unit, for sentences: shares in wt%, conductivity as meters read it.
 *
 * Valid for any figure. Source: definition of the units; 1 mS/cm is 0.1 S/m. Errors: `not-finite`.
 *
 * @example
 * figureWords(0.4976, 'massFraction') // '49.76 wt%'
 */
export function figureWords(value: number, unit: LabUnit): string {
  checkFinite('value', value);
  if (unit === 'judgement') return value >= 1 ? 'good' : 'not good';
  // Meters read in these two: 1 mS/cm is 0.1 S/m.
  if (unit === 'siemensPerM' && Math.abs(value) < 0.1) return `${Number((1e4 * value).toPrecision(4))} µS/cm`;
  const { factor, symbol } = unitWords[unit];
  return `${Number((factor * value).toPrecision(4))}${symbol}`;
}
