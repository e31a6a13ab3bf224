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
export function checkNumber(argument: string, value: unknown, range: Range = {}): number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new CalcError({ code: 'not-finite', argument, given: value, allowed: wording(range) });
  }
  const inside =
    (range.min === undefined || value >= range.min) &&
    (range.above === undefined || value > range.above) &&
    (range.max === undefined || value <= range.max) &&
    (range.below === undefined || value < range.below);
  if (!inside) throw new CalcError({ code: 'out-of-range', argument, given: value, allowed: wording(range) });
  return value;
}

/**
 * Like {@link checkNumber}, and whole.
 *
 * @example
 * checkWhole('quantity', 48, { min: 1 }) // 48
 */
export function checkWhole(argument: string, input: unknown, range: Range = {}): number {
  const value = checkNumber(argument, input, range);
  if (!Number.isInteger(value)) {
    throw new CalcError({
      code: 'out-of-range',
      argument,
      given: input,
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
export function checkName<T extends string>(argument: string, value: unknown, names: readonly T[]): T {
  const found = names.find((name) => name === value);
  if (found === undefined) {
    throw new CalcError({ code: 'unknown', argument, given: value, allowed: names.join(', ') });
  }
  return found;
}

/**
 * Refuses an object that holds NaN or an infinity anywhere inside, and names the place; for inputs of many numbers whose
 * ranges are judged elsewhere, or have none. Lists of bytes and coordinates are left to whoever reads them.
 *
 * @example
 * checkFinite('growth', { offsetNm: 2, slopeNmPerV: NaN }) // throws: growth.slopeNmPerV is NaN; allowed: a finite number
 */
export function checkFinite(argument: string, value: unknown): void {
  if (typeof value === 'number') checkNumber(argument, value);
  else if (Array.isArray(value)) value.forEach((item, index) => checkFinite(`${argument}[${index}]`, item));
  else if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    for (const [key, item] of Object.entries(value))
      checkFinite(argument === '' ? key : `${argument}.${key}`, item);
  }
}
