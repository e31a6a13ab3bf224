/**
 * Potassium hydroxide: Gilliam, Graydon, Kirk and Thorpe, Int. J. Hydrogen Energy 32 (2007) 359. Evidence P, read
 * in three independent programs.  S/cm = A M + B M^2 + C M T + D M/T + E M^3 + F M^2 T^2  with M in mol/L at the
 * temperature of the bath and T in kelvin; fitted for 0 to 12 mol/L and 0 to 100 °C. Against an older series at 15
 * °C it reads up to 8 % low.
 */
export const gilliam = {
  A: -2.041, B: -0.0028, C: 0.005332, D: 207.2, E: 0.001043, F: -0.0000003,
  maxMolPerLitre: 12, minC: 0, maxC: 100,
  /** Past 12 mol/L the fit still falls with strength when hot, but turns upward below about 50 °C. */
  usableTo: { molPerLitre: 13.6, fromC: 50 },
} as const;

/**
 * Sulfuric acid at 25 °C: battery model fit used by Gu, Wang and Liaw, J. Electrochem. Soc. 144 (1997) 2053, after
 * Tiedemann and Newman 1979.  S/m = 1e-4 c exp(6.23 - 1.34e-4 c - 1.61e-8 c^2), c in mol/m3. Evidence P-model,
 * meant for 1 to 6 mol/L; an older series brought to 25 °C reads about 9 % lower at 180 g/L.
 */
export const sulfuricAcidFit = {
  scale: 1e-4, a: 6.23, b: -1.34e-4, c: -1.61e-8, atC: 25, minMolPerLitre: 1, maxMolPerLitre: 6,
} as const;

export interface ConductivityTable {
  /** 'P': read in a copy of the table. 'M': from memory, unverified. */
  evidence: 'P' | 'M';
  /** [mass fraction, °C, S/m] */
  rows: readonly (readonly [number, number, number])[];
}

/**
 * One-temperature tables. (NH4)2SO4, H3PO4, Na3PO4 and weak NaOH: CRC Handbook, electrical conductivity of aqueous
 * solutions, 20 °C; of these only (NH4)2SO4 was read in a copy. NaOH from 5 wt%: Kohlrausch's series at 18 °C,
 * from memory.
 */
export const conductivityTables = {
  NH4_2SO4: {
    evidence: 'P',
    rows: [
      [0.005, 20, 0.74], [0.01, 20, 1.42], [0.02, 20, 2.57], [0.05, 20, 5.74], [0.1, 20, 10.5],
      [0.15, 20, 14.7], [0.2, 20, 18.5], [0.25, 20, 21.5],
    ],
  },
  NaOH: {
    evidence: 'M',
    rows: [
      [0.005, 20, 2.48], [0.01, 20, 4.86], [0.02, 20, 9.31],
      [0.05, 18, 19.69], [0.1, 18, 31.24], [0.15, 18, 34.63], [0.2, 18, 32.7], [0.25, 18, 27.17],
      [0.3, 18, 20.22], [0.4, 18, 11.64],
    ],
  },
  H3PO4: {
    evidence: 'M',
    rows: [
      [0.005, 20, 0.55], [0.01, 20, 1.01], [0.02, 20, 1.62], [0.05, 20, 3.15], [0.1, 20, 5.94],
      [0.15, 20, 8.84], [0.2, 20, 11.8], [0.25, 20, 14.6], [0.3, 20, 17.3], [0.4, 20, 20.9],
    ],
  },
  Na3PO4: {
    evidence: 'M',
    rows: [
      [0.005, 20, 0.73], [0.01, 20, 1.41], [0.02, 20, 2.27], [0.05, 20, 4.35],
    ],
  },
} as const satisfies Record<string, ConductivityTable>;

/**
 * Rise of conductivity per kelvin near 20 °C, as a share: 0.015 to 0.025 for strong electrolytes (common practice, no
 * source); 0.015 for sulfuric acid, which brings the older series from 18 to 25 °C.
 */
export const risePerKelvin = { H2SO4: 0.015, other: 0.02, withinK: 20 } as const;
