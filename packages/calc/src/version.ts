/** Which formulas a stored result came from: raised with every change that can change a figure. */
export const CALC_VERSION = '1.2.0';
