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

export const t6 = {
  solute: 'KOH',
  scale: 'g/mL',
  reading: 1.478,
  sampleTemperatureC: 40,
  dissolved: [],
  uncertainty: { gramsPerMl: 0.001, temperatureC: 1 },
} as const;
