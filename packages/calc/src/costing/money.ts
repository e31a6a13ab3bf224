/**
 * Figures of an amount that are taken as meant. The rest is residue of binary arithmetic: a sum of twenty products is
 * off by a few units in the sixteenth figure.
 */
const MEANT_FIGURES = 14;

/**
 * Rounds half away from zero as it is done on paper: 1.005 becomes 1.01 although the nearest binary number lies below
 * it. The result is the binary number nearest to the decimal one, so that `toFixed` prints it exactly.
 */
export function roundHalfAway(value: number, decimals: number): number {
  const meant = Number(Math.abs(value).toPrecision(MEANT_FIGURES));
  const rounded = Math.round(shiftDecimal(meant, decimals));
  return Math.sign(value) * shiftDecimal(rounded, -decimals) + 0;
}

/** Moves the decimal point in the printed number, where a multiplication would round. */
function shiftDecimal(value: number, places: number): number {
  const [digits = '0', exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}

export const roundMoney = (value: number): number => roundHalfAway(value, 2);
