import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/** Refuses anything but a list of at least `least` finite numbers; the faulty element is named by its place. */
export function checkSeries(argument: string, input: unknown, least: number): readonly number[] {
  if (!Array.isArray(input) || input.length < least) {
    throw new CalcError({
      code: 'malformed',
      argument,
      given: Array.isArray(input) ? `a list of ${input.length}` : input,
      allowed: `a list of at least ${least} finite number${least === 1 ? '' : 's'}`,
    });
  }
  return input.map((value, index) => checkNumber(`${argument}[${index}]`, value));
}

/** Two lists of observations that belong together, at least `least` of each. */
export function checkPairs(
  input: { x: unknown; y: unknown },
  least: number,
): { x: readonly number[]; y: readonly number[] } {
  const x = checkSeries('x', input.x, least);
  const y = checkSeries('y', input.y, least);
  if (x.length !== y.length) {
    throw new CalcError({
      code: 'malformed',
      argument: 'y',
      given: `a list of ${y.length}`,
      allowed: `as many values as x, which has ${x.length}`,
    });
  }
  return { x, y };
}

/** Sum with the rounding error of every addition carried along (Neumaier 1974). */
export function sum(values: Iterable<number>): number {
  let total = 0;
  let lost = 0;
  for (const value of values) {
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return total + lost;
}

/** Taken from the first value onward, so that the mean of equal values is that value to the last bit. */
export const mean = (values: readonly number[]): number => {
  const first = values[0] ?? NaN;
  return first + sum(values.map((value) => value - first)) / values.length;
};

/** Sum of squares about `centre`. */
export const sumOfSquares = (values: readonly number[], centre = 0): number =>
  sum(values.map((value) => (value - centre) ** 2));

/** Sample standard deviation, divisor n - 1. */
export const standardDeviation = (values: readonly number[]): number =>
  Math.sqrt(sumOfSquares(values, mean(values)) / (values.length - 1));
