import { checkFinite, checkNumber } from '../check.ts';
import type { LabUnit } from '../lab/readings.ts';

interface Figure {
  value: number;
  /** Null where nobody stated it. */
  standardUncertainty: number | null;
}

/** A result that the bath cannot have come to by what is on record. */
export interface ResultJump {
  previous: number;
  /** What the record leaves room for. */
  low: number;
  high: number;
  /** As far off as a slipped decimal point makes it. */
  tenfold: boolean;
}

/** Standard uncertainties that two results are believed within: two, about 95 %. */
const coverage = 2;
/** A strength drifts unseen by a tenth, and by a hundredth more each day, to a third at most. Common practice, no source. */
const strengthDrift = { atOnce: 0.1, perDay: 0.01, most: 1 / 3 };
/** What builds up (metal, carbonate) may do so by a factor of two, and again in each month. Common practice, no source. */
const buildUpFactor = 2;
const buildUpDays = 30;
/** No more than this, so that a slipped decimal point is asked about after years too. */
const mostFactor = 8;
/** Rinses go from clean to spent between two readings. Common practice, no source. */
const meterFactor = 5;
/** Units of pH between two readings. Common practice, no source. */
const mostPh = 1.5;

/**
 * Whether a result can follow from the last one: from it, less what work carried out, plus what was added. Null when it can,
 * and for a judgement by eye; otherwise the range that the record leaves room for, for the question "is this so?".
 *
 * `expected` is the figure after what was added since, in the unit of the result; null where nothing was. `carriedOutShare` is
 * the liquid that parts carried out since over what stands in the tank: a bath topped up with water is exp(-share) as strong.
 *
 * Valid for days 0 and up, carriedOutShare 0 and up.
 * Source: dilution by drag-out, c = c0 exp(-Q/V), definition; the margins are common practice, no source.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * resultJump({
 *   unit: 'massFraction',
 *   isStrength: true,
 *   result: { value: 0.071, standardUncertainty: 0.0025 },
 *   previous: { value: 0.4976, standardUncertainty: 0.002 },
 *   expected: null,
 *   days: 0,
 *   carriedOutShare: 0,
 * })
 * // { previous: 0.4976, low: 0.44144, high: 0.55376, tenfold: true }
 */
export function resultJump(input: {
  unit: LabUnit;
  /** What gives the bath its strength; anything else may build up. */
  isStrength: boolean;
  result: Figure;
  previous: Figure;
  expected: number | null;
  days: number;
  carriedOutShare: number;
}): ResultJump | null {
  checkFinite('', input);
  checkNumber('days', input.days, { min: 0 });
  checkNumber('carriedOutShare', input.carriedOutShare, { min: 0 });
  const { unit, result, previous } = input;
  if (unit === 'judgement') return null;
  const base = input.expected ?? previous.value;
  const reach = coverage * Math.hypot(result.standardUncertainty ?? 0, previous.standardUncertainty ?? 0);
  const { low, high } = roomAround(base, input);
  const range = { low: Math.min(low, base) - reach, high: Math.max(high, base) + reach };
  if (result.value >= range.low && result.value <= range.high) return null;
  const lowest = unit === 'pH' ? range.low : Math.max(0, range.low);
  const tenfold = unit !== 'pH' && isTenfold(result.value / base);
  return { previous: previous.value, low: lowest, high: range.high, tenfold };
}

/** A strong bath that reads ten times too weak in g/L reads seven times too weak in wt%: its litre is heavier. */
const isTenfold = (ratio: number): boolean => (ratio > 5 && ratio < 20) || (ratio > 1 / 20 && ratio < 1 / 5);

function roomAround(
  base: number,
  { unit, isStrength, days, carriedOutShare }: Parameters<typeof resultJump>[0],
): { low: number; high: number } {
  if (unit === 'pH') return { low: base - mostPh, high: base + mostPh };
  if (unit === 'siemensPerM' || unit === 'ntu') return { low: base / meterFactor, high: base * meterFactor };
  if (isStrength) {
    const drift = Math.min(strengthDrift.most, strengthDrift.atOnce + strengthDrift.perDay * days);
    return { low: base * Math.exp(-carriedOutShare) * (1 - drift), high: base * (1 + drift) };
  }
  const factor = Math.min(mostFactor, buildUpFactor ** (1 + days / buildUpDays));
  return { low: base / factor, high: base * factor };
}
