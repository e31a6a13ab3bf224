export {
  type ChamberFigure,
  type ChamberLimits,
  type ChamberMethod,
  type ChamberRange,
  chamberFaults,
  chamberLimits,
  chamberMethods,
} from './chamber-limits.ts';
export { type CorrosionScan, corrosionFromScan, type ScanResult } from './corrosion-from-scan.ts';
export { type DissolvingMetal, dissolvingMetals } from './data/equivalent-weights.ts';
export { equivalentWeight } from './equivalent-weight.ts';
export { exposedHours, type Interruption } from './exposed-hours.ts';
export { type EventSpan, firstCorrosion } from './first-corrosion.ts';
export { intervalSurvival, type SurvivalStep } from './interval-survival.ts';
export {
  fitPolarizationResistance,
  type PolarizationPoint,
  type PolarizationResistance,
} from './polarization-resistance.ts';
export { protectionRating } from './protection-rating.ts';
export { corrosionCurrentDensity, corrosionRate, protectionRatio } from './rate.ts';
