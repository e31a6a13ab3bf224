import { checkNumber, checkWhole } from '../check.ts';

/**
 * Figures of an amount that are taken as meant. The rest is residue of binary arithmetic: a sum of twenty products is
 * off by a few units in the sixteenth figure.
 */
const SIGNIFICANT_DIGITS = 14;

/**
 * Rounds half away from zero as it is done on paper: 1.005 becomes 1.01 although the nearest binary number lies below
 * it. The result is the binary number nearest to the decimal one, so that `toFixed` prints it exactly.
 */
export function roundHalfAway(value: number, decimals: number): number {
  const meant = Number(Math.abs(value).toPrecision(SIGNIFICANT_DIGITS));
  const rounded = Math.round(shiftDecimal(meant, decimals));
  return Math.sign(value) * shiftDecimal(rounded, -decimals) + 0;
}

/** Moves the decimal point in the printed number, where a multiplication would round. */
function shiftDecimal(value: number, places: number): number {
  const [digits = '0', exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}

/** Decimals of a unit price beyond those of its currency: the total is what is owed. Common practice, no source. */
const FURTHER_DIGITS = 2;

/**
 * The price of a piece out of the price of the lot, rounded half away from zero to two decimals more than the currency
 * counts. Quantity: above 0. Source: common practice. Errors: `not-finite` or `out-of-range` with the name of the figure.
 *
 * @example
 * unitPrice({ total: 372.68, quantity: 240, minorDigits: 2 }) // 1.5528
 */
export function unitPrice(lot: { total: number; quantity: number; minorDigits: number }): number {
  const total = checkNumber('total', lot.total);
  const quantity = checkNumber('quantity', lot.quantity, { above: 0 });
  return roundHalfAway(total / quantity, unitPriceDigits(lot.minorDigits));
}

/**
 * Decimals that a unit price is stated with, from those its currency is counted in. Common practice, no source.
 * Range: 0 to 4. Errors: `not-finite` or `out-of-range`.
 *
 * @example
 * unitPriceDigits(2) // 4
 */
export const unitPriceDigits = (minorDigits: number): number =>
  checkWhole('minorDigits', minorDigits, { min: 0, max: 4 }) + FURTHER_DIGITS;
