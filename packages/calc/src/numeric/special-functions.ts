/** Lanczos coefficients for g = 7, nine terms: relative error of the gamma function near 1e-15 for positive x. */
// prettier-ignore
const LANCZOS = [
  676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** Natural logarithm of the gamma function, x > 0 (Lanczos, SIAM J. Numer. Anal. B 1, 1964, 86). */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const t = x - 1 + 7.5;
  const series = LANCZOS.reduce(
    (total, coefficient, i) => total + coefficient / (x + i),
    0.99999999999980993,
  );
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(series);
}

export const logFactorial = (n: number): number => logGamma(n + 1);

/** Logarithm of the number of ways to choose k of n; minus infinity when there is none. */
export const logChoose = (n: number, k: number): number =>
  k < 0 || k > n ? -Infinity : logFactorial(n) - logFactorial(k) - logFactorial(n - k);

/**
 * Regularised incomplete beta function I_x(a, b) by its continued fraction
 * (Abramowitz and Stegun 26.5.8, evaluated by Lentz's method).
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x) - Math.log(a),
  );
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    fraction *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-15) break;
  }
  return front * fraction;
}

const nonZero = (value: number): number => (Math.abs(value) < 1e-300 ? 1e-300 : value);
