const C2_NM_K = 1.435e7;
const CCT_K = 2848;
const planck = (nm: number) => nm ** -5 / (Math.exp(C2_NM_K / (CCT_K * nm)) - 1);

/**
 * Relative spectral power of CIE standard illuminant A, 380 to 780 nm by 5 nm, 100 at 560 nm. Source: the formula of CIE 15:2004
 * and ISO 11664-2:2007, with their constants of 2848 K and 1.435e7 nm K. Evidence: P.
 */
export const illuminantA: readonly number[] = Array.from(
  { length: 81 },
  (_, i) => (100 * planck(380 + 5 * i)) / planck(560),
);
