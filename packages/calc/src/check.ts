import { CalcError } from './errors.ts';

interface Range {
  min?: number;
  max?: number;
  /** The lower bound itself is not allowed. */
  above?: number;
  /** The upper bound itself is not allowed. */
  below?: number;
}

const wording = ({ min, max, above, below }: Range): string =>
  [
    min === undefined ? '' : `at least ${min}`,
    above === undefined ? '' : `more than ${above}`,
    max === undefined ? '' : `at most ${max}`,
    below === undefined ? '' : `less than ${below}`,
  ]
    .filter(Boolean)
    .join(' and ') || 'a finite number';

/**
 * Refuses NaN, infinities and anything outside `range`; returns the value unchanged otherwise.
 *
 * @example
 * checkNumber('temperatureC', 60, { min: -20, max: 200 }) // 60
 */
export function checkNumber(argument: string, given: unknown, range: Range = {}): number {
  if (typeof given !== 'number' || !Number.isFinite(given)) {
    throw new CalcError({ code: 'not-finite', argument, given, allowed: wording(range) });
  }
  const inside =
    (range.min === undefined || given >= range.min) &&
    (range.above === undefined || given > range.above) &&
    (range.max === undefined || given <= range.max) &&
    (range.below === undefined || given < range.below);
  if (!inside) throw new CalcError({ code: 'out-of-range', argument, given, allowed: wording(range) });
  return given;
}

/**
 * Like {@link checkNumber}, and whole.
 *
 * @example
 * checkWhole('quantity', 48, { min: 1 }) // 48
 */
export function checkWhole(argument: string, given: unknown, range: Range = {}): number {
  const value = checkNumber(argument, given, range);
  if (!Number.isInteger(value)) {
    throw new CalcError({
      code: 'out-of-range',
      argument,
      given,
      allowed: `a whole number, ${wording(range)}`,
    });
  }
  return value;
}

/**
 * One of a closed list of names.
 *
 * @example
 * checkName('solute', 'KOH', ['KOH', 'NaOH']) // 'KOH'
 */
export function checkName<T extends string>(argument: string, given: unknown, names: readonly T[]): T {
  const found = names.find((name) => name === given);
  if (found === undefined) {
    throw new CalcError({ code: 'unknown', argument, given, allowed: names.join(', ') });
  }
  return found;
}
