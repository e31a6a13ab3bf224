/**
 * Density at 20 °C, [mass fraction, kg/m3], where the model of `density-model.ts` does not reach or is known to be
 * off.
 * Source: CRC Handbook of Chemistry and Physics, concentrative properties of aqueous solutions (edition 102).
 * Evidence P.
 */
export const strongSulfuricAcidAt20C: readonly (readonly [number, number])[] = [
  [0.8, 1727.2], [0.82, 1749.1], [0.84, 1769.3], [0.86, 1787.2], [0.88, 1802.2], [0.9, 1814.4],
  [0.92, 1824.0], [0.94, 1831.2], [0.96, 1835.5], [0.98, 1836.1], [1, 1830.5],
];

/** As above. At 20 °C the model reads up to 0.6 % low for trisodium phosphate; it is fitted only from 25 °C up. */
export const trisodiumPhosphateAt20C: readonly (readonly [number, number])[] = [
  [0.005, 1004.2], [0.01, 1010.0], [0.015, 1015.8], [0.02, 1021.6], [0.025, 1027.5], [0.03, 1033.5],
  [0.035, 1039.5], [0.04, 1045.6], [0.045, 1051.7], [0.05, 1057.9], [0.055, 1064.2], [0.06, 1070.5],
  [0.065, 1076.8], [0.07, 1083.2], [0.075, 1089.6], [0.08, 1096.1],
];

/**
 * Strong sodium hydroxide: rho/1000 = a + b w + c w^2 + d t + e w t + f t^2 with w mass fraction, t in °C, fitted
 * to the published table of 24 to 50 wt% at 20 to 100 °C; largest deviation from that table 0.0010 g/cm3. Evidence
 * D, table P. Above 22 wt% the model of `density-model.ts` loses the thermal expansion (+1.6 % at 50 wt%, 100 °C).
 */
export const strongSodiumHydroxide = {
  a: 0.993434, b: 1.257127, c: -0.333133, d: -5.44984e-4, e: -2.84784e-4, f: -1.95132e-7,
  minMassFraction: 0.24, maxMassFraction: 0.5, minC: 20, maxC: 100,
} as const;

/** Where the model gives way to the fit above; between the two the density is interpolated. */
export const sodiumHydroxideModelEnds = 0.22;
