/**
 * Molar masses in g/mol, from the standard atomic weights of IUPAC (abridged to the digits shown). Evidence P.
 */
export const molarMass = {
  KOH: 56.1056,
  NaOH: 39.9971,
  H2SO4: 98.079,
  H3PO4: 97.994,
  Na3PO4: 163.94,
  K2CO3: 138.205,
  Na2CO3: 105.988,
  NH4_2SO4: 132.14,
  Al2_SO4_3: 342.15,
  KHCO3: 100.115,
  NaHCO3: 84.006,
  Na2HPO4: 141.958,
  Al: 26.982,
  H2O: 18.015,
} as const;
