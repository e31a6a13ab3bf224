export type { ConstantSet, OpticalIndex } from './constant-set.ts';
export { type ConstantSetName, constantSets } from './constant-sets.ts';
export { effectiveIndex } from './effective-index.ts';
export type { EffectiveMedium } from './effective-medium.ts';
export { type FilmColour, filmColour } from './film-colour.ts';
export { type FilmModel, filmModel } from './film-model.ts';
export { type FilmLayer, filmReflectance, type Polarisation } from './film-reflectance.ts';
export { type System, type SystemName, systemNames } from './resolve-system.ts';
export {
  aluminiumSystem,
  type FilmSystem,
  niobiumSystem,
  steelSystem,
  tantalumSystem,
  titaniumSystem,
  zirconiumSystem,
} from './systems.ts';
export {
  colourAtVoltage,
  type ColourMatch,
  type Coupon,
  type FilmGrowth,
  type FilmThickness,
  fitFilmGrowth,
  type FittedCoupon,
  type GrowthAlternative,
  type GrowthFit,
  type GrowthRegime,
  type GrowthVerdict,
  type MatchCandidate,
  matchColour,
  nominalGrowth,
  type PassingStretch,
  type StripColour,
  thicknessFromVoltage,
  type TwinColour,
  voltageStrip,
  type VoltageWindow,
  voltageWindow,
} from './growth/index.ts';
export {
  bestTriedSetting,
  type ColourDrift,
  colourDrift,
  type DriftColour,
  type DriftGap,
  isColourOutcome,
  type OutcomeKind,
  outcomeKind,
  liftedBandTimes,
  processMap,
  type ProcessMapPoint,
  type ProcessSetting,
  type ProcessTrial,
  type SourcedTrial,
  type SettingLimits,
  steelTrials,
  type StripPause,
  type StrengthTrial,
  type TankSetting,
  trialLimits,
  type TrialLimits,
  type TrialOutcome,
  type WithdrawalBand,
  type WithdrawalTrial,
  withdrawalTrials,
} from './trials/index.ts';
