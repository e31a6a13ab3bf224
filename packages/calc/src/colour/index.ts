export type { Colour, Lab, Lch, Srgb, Xyz } from './colour-types.ts';
export type { ColourFile, FileConditions, FileReading } from './colour-file.ts';
export { deltaE2000, deltaE76, type DeltaEFactors } from './delta-e.ts';
export { colourFromReflectance } from './from-reflectance.ts';
export {
  type ColourReading,
  labFromReadings,
  type ReadingConditions,
  type ReadLab,
} from './from-readings.ts';
export { type ColourTarget, judgeColour, type JudgedColour } from './judge-colour.ts';
export { labOfSpectrum } from './lab-of-spectrum.ts';
export type { MeasuredSpectrum } from './measured-spectrum.ts';
export { readCgats } from './read-cgats.ts';
export { readColourCsv } from './read-colour-csv.ts';
export { readColourFile } from './read-colour-file.ts';
export {
  type SpectralIlluminant,
  type SpectralObserver,
  type Viewing,
  wavelengthsNm,
} from './spectral-weights.ts';
export { labToSrgb, srgbToLab } from './srgb.ts';
