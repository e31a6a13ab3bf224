export { anodizingThickness, anodizingTime, RULE_CONSTANT } from './anodizing-time.ts';
export { conductorCheck } from './conductor-check.ts';
export { type CurrentProfile, currentProfile } from './current-profile.ts';
export { CURRENT_DENSITIES, type CurrentDensityReport } from './data/current-densities.ts';
export { type Oxide, OXIDE_NAMES, type OxideName, OXIDES } from './data/oxides.ts';
export { electrolysisHeat } from './electrolysis-heat.ts';
export { fallingCurrent } from './falling-current.ts';
export { type GasEvolution, gasEvolution } from './gas-evolution.ts';
export { ohmicDrop } from './ohmic-drop.ts';
export { chargeForThickness, oxideThickness } from './oxide-thickness.ts';
export {
  type PowerSupply,
  type PowerSupplyCheck,
  powerSupplyCheck,
  type SupplyLimit,
} from './power-supply-check.ts';
