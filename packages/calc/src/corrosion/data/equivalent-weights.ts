/**
 * Dissolving valence, atomic mass (IUPAC, abridged) in g/mol and density in g/cm3. Equivalent weight =
 * mass/valence, as ASTM G102 defines it; evidence D. Iron dissolves as Fe2+ unless stated.
 */
export const dissolvingMetals = {
  Fe: { valence: 2, atomicMass: 55.845, densityGPerCm3: 7.87 },
  Ti: { valence: 4, atomicMass: 47.867, densityGPerCm3: 4.51 },
  Nb: { valence: 5, atomicMass: 92.906, densityGPerCm3: 8.57 },
  Ta: { valence: 5, atomicMass: 180.948, densityGPerCm3: 16.65 },
  Zr: { valence: 4, atomicMass: 91.224, densityGPerCm3: 6.51 },
  Al: { valence: 3, atomicMass: 26.982, densityGPerCm3: 2.7 },
  Cu: { valence: 2, atomicMass: 63.546, densityGPerCm3: 8.96 },
  Ni: { valence: 2, atomicMass: 58.693, densityGPerCm3: 8.9 },
  Zn: { valence: 2, atomicMass: 65.38, densityGPerCm3: 7.14 },
  Cr: { valence: 3, atomicMass: 51.996, densityGPerCm3: 7.19 },
  Co: { valence: 2, atomicMass: 58.933, densityGPerCm3: 8.86 },
  Mg: { valence: 2, atomicMass: 24.305, densityGPerCm3: 1.74 },
  Mo: { valence: 3, atomicMass: 95.95, densityGPerCm3: 10.2 },
} as const;

export type DissolvingMetal = keyof typeof dissolvingMetals;
