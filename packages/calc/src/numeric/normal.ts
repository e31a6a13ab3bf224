/**
 * Probability that a standard normal deviate exceeds z: Marsaglia's series about 0 (J. Stat. Softw. 11(4), 2004), the
 * continued fraction of the tail (Abramowitz and Stegun 26.2.14) beyond 4.
 */
export function normalAbove(z: number): number {
  if (z < 0) return 1 - normalAbove(-z);
  const density = Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI);
  if (z > 4) {
    let fraction = z;
    for (let k = 60; k >= 1; k--) fraction = z + k / fraction;
    return density / fraction;
  }
  let sum = 0;
  let term = z;
  for (let k = 3; sum + term !== sum; k += 2) {
    sum += term;
    term *= (z * z) / k;
  }
  return 0.5 - density * sum;
}
