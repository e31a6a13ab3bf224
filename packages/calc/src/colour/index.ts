export type { Colour, Lab, Lch, Srgb, Xyz } from './colour-types.ts';
export { deltaE2000, deltaE76 } from './delta-e.ts';
export { colourFromReflectance } from './from-reflectance.ts';
export {
  type ColourReading,
  labFromReadings,
  type ReadingConditions,
  type ReadLab,
} from './from-readings.ts';
export type { MeasuredSpectrum } from './measured-spectrum.ts';
export { wavelengthsNm } from './spectral-weights.ts';
export { labToSrgb, srgbToLab } from './srgb.ts';
