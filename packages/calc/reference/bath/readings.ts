/** A sample pipetted at 20 °C. */
export const pipetted = (volumeMl: number): { volumeMl: number; temperatureC: number } => ({
  volumeMl,
  temperatureC: 20,
});

/** T1: 5 mL made up to 250, 25 taken. */
export const t1 = {
  solute: 'KOH',
  titrantEqPerLitre: 0.5,
  firstEndPointMl: 13.6,
  secondEndPointMl: 13.95,
  secondReading: 'from-zero',
  sample: { ...pipetted(5), dilution: { madeUpToMl: 250, takenMl: 25 } },
  uncertainty: { titrantRelative: 0.001, readingMl: 0.03, sampleRelative: 0.006 },
} as const;

/** T2: weighed, with barium chloride. */
export const t2 = {
  solute: 'KOH',
  titrantEqPerLitre: 0.5,
  totalMl: 27.35,
  hydroxideMl: 26.6,
  sample: { massG: 1.5, temperatureC: 20 },
} as const;

export const t3 = {
  method: 'two-end-points',
  titrantEqPerLitre: 1,
  acidMl: 18.4,
  totalMl: 22.4,
  sample: pipetted(5),
} as const;

export const t4 = {
  method: 'fluoride',
  titrantEqPerLitre: 1.005,
  acidMl: 37.1,
  totalMl: 45.2,
  sample: pipetted(10),
  uncertainty: { titrantRelative: 0.002 / 1.005, readingMl: 0.05, sampleRelative: 0.002 },
} as const;

export const t5 = {
  titrantEqPerLitre: 0.1,
  firstEndPointMl: 31.4,
  secondEndPointMl: 60.5,
  secondReading: 'from-zero',
  sample: pipetted(10),
} as const;

/** T5 with a bath that acid has eaten into. */
export const t5Acidified = { ...t5, firstEndPointMl: 25, secondEndPointMl: 55 } as const;

export const phosphoric = {
  titrantEqPerLitre: 0.5,
  firstEndPointMl: 8.2,
  secondEndPointMl: 16.4,
  secondReading: 'from-zero',
  sample: pipetted(2),
} as const;

/** Assay of KOH: 1 mL of 1 N acid to the final end point, 1 mL between the two. */
export const assay = {
  ...t1,
  titrantEqPerLitre: 1,
  firstEndPointMl: 9,
  secondEndPointMl: 10,
} as const;

export const t6 = {
  solute: 'KOH',
  scale: 'g/mL',
  reading: 1.478,
  sampleTemperatureC: 40,
  dissolved: [],
  uncertainty: { gramsPerMl: 0.001, temperatureC: 1 },
} as const;

/** T7: sulfuric acid with aluminium, as the float reads it. */
export const t7 = {
  solute: 'H2SO4',
  scale: 'g/mL',
  reading: 1.1688,
  sampleTemperatureC: 20,
  aluminiumSulfateGramsPerLitre: 63.4,
} as const;
