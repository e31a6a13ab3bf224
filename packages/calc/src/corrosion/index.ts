export { type CorrosionScan, corrosionFromScan, type ScanResult } from './corrosion-from-scan.ts';
export { type DissolvingMetal, dissolvingMetals } from './data/equivalent-weights.ts';
export { equivalentWeight } from './equivalent-weight.ts';
export {
  fitPolarizationResistance,
  type PolarizationPoint,
  type PolarizationResistance,
} from './polarization-resistance.ts';
export { corrosionCurrentDensity, corrosionRate, protectionRatio } from './rate.ts';
