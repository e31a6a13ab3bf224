/**
 * Water over caustic: Balej, Int. J. Hydrogen Energy 10 (1985) 233, with T in kelvin and m in mol per kg of water;
 * the sodium hydroxide formula in its corrected form. Evidence P-model.
 *     KOH    log10 a = k1 m + k2 m^2 + (h1 m + h2 m^2)/T
 *     NaOH   log10 a = k1 m + k2 m^2 + k3 m^3 + (h1 m + h2 m^2 + h3 m^3)/T
 *     water  log10 p[bar] = 35.4462 - 3343.93/T - 10.9 log10 T + 0.0041645 T
 */
export const waterActivityModel = {
  KOH: { k: [-0.02255, 0.001434, 0], h: [1.38, -0.9254, 0], maxMolality: 18 },
  NaOH: { k: [-0.01332, 0.002542, -3.06e-5], h: [1.5827, -1.5669, 0.021296], maxMolality: 25 },
} as const;

export const waterPressureModel = { a: 35.4462, b: -3343.93, c: -10.9, d: 0.0041645 } as const;

/**
 * The same paper's second form, for the pressure itself, which the boiling points come from; within 2 % of the
 * first at 60 °C.
 *     log10 p[bar] = a1 m + a2 m^2 + a3 m^3 + (1 + b1 m + b2 m^2 + b3 m^3) log10 p_water[bar]
 */
export const vapourPressureModel = {
  KOH: { a: [-0.01508, -0.0016788, 2.25887e-5], b: [-0.0012062, 5.6024e-4, -7.8228e-6] },
  NaOH: { a: [-0.010986, -0.001461, 2.03528e-5], b: [-0.00134141, 7.07241e-4, -9.5362e-6] },
} as const;

/**
 * A producer states about 145 °C for the boiling point of 50 wt% sodium hydroxide (P), where Balej's formula, at
 * the end of its range, gives 152. From 40 wt% on the difference is taken off in proportion.
 */
export const sodiumHydroxideBoiling = { fromMassFraction: 0.4, atMassFraction: 0.5, publishedC: 145 } as const;
