import { groupDigits } from '@huelot/contracts';
import { type Quantity, type SystemOfUnits, toDisplay } from '@huelot/calc';

/** Figures kept of an uncertainty. JCGM 100:2008, 7.2.6: at most two. */
const figures = 2;
/** Less than this share of the value is what rounding leaves, and no uncertainty. */
const nothing = 1e-9;

/**
 * A value and what stands behind its ±, in digits: the uncertainty to two figures, the value to the same place. Null
 * for the value as it is where there is no uncertainty to speak of.
 *
 * @example
 * withUncertainty({ value: 28.104, plusMinus: 0.229 }) // { figure: '28.10', plusMinus: '0.23' }
 * withUncertainty({ value: 743.37, plusMinus: 11.75 }) // { figure: '743', plusMinus: '12' }
 */
export function withUncertainty(input: {
  value: number;
  plusMinus: number;
}): { figure: string; plusMinus: string } | null {
  if (!(input.plusMinus > nothing * Math.abs(input.value))) return null;
  // Rounded once before: 0.0996 is 0.10, whose last figure stands one place higher.
  const [, exponent = '0'] = input.plusMinus.toExponential(figures - 1).split('e');
  const place = Number(exponent) - figures + 1;
  const text = (value: number) =>
    groupDigits(
      place >= 0 ? (Math.round(value / 10 ** place) * 10 ** place).toFixed(0) : value.toFixed(-place),
    );
  return { figure: text(input.value), plusMinus: text(input.plusMinus) };
}

/**
 * A stored value with its uncertainty and unit.
 *
 * @example
 * uncertainText({ quantity: 'mass', value: 28.104, plusMinus: 0.229, system: 'metric' }) // '28.10 ± 0.23 kg'
 */
export function uncertainText(input: {
  quantity: Quantity;
  value: number;
  plusMinus: number;
  system: SystemOfUnits;
}): string {
  const { value, text, symbol } = toDisplay(input);
  const plusMinus = toDisplay({ ...input, value: input.plusMinus }).value;
  const pair = withUncertainty({ value, plusMinus });
  const figure = pair ? `${pair.figure}\u00a0±\u00a0${pair.plusMinus}` : groupDigits(text);
  return `${figure}\u00a0${symbol}`;
}
