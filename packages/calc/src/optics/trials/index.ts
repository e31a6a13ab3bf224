export { bestTriedSetting } from './best-tried.ts';
export { type BoxShare, boxShare } from './box-share.ts';
export { type ColourDrift, colourDrift, type DriftColour, type DriftGap } from './colour-drift.ts';
export { liftedBandTimes, type StripPause } from './lifted-strip.ts';
export { type NextTrial, nextTrial } from './next-trial.ts';
export { processMap, type ProcessMapPoint } from './process-map.ts';
export type { ProcessSetting, ProcessTrial } from './process-trial.ts';
export type { SettingBox } from './setting-box.ts';
export { type SourcedTrial, steelTrials } from './steel-trials.ts';
export type { StrengthTrial, TankSetting } from './strength-trial.ts';
export { isColourOutcome, type OutcomeKind, outcomeKind, type TrialOutcome } from './trial-outcomes.ts';
export { type SettingLimits, trialLimits, type TrialLimits } from './trial-limits.ts';
export {
  type MapInput,
  type MapSetting,
  type MapTrial,
  type TrialMap,
  trialMap,
  type TrialMapPoint,
} from './trial-map.ts';
export { type WithdrawalBand, type WithdrawalTrial, withdrawalTrials } from './withdrawal-trials.ts';
