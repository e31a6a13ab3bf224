export { bestTriedSetting } from './best-tried.ts';
export { type ColourDrift, colourDrift, type DriftColour, type DriftGap } from './colour-drift.ts';
export { processMap, type ProcessMapPoint } from './process-map.ts';
export type { ProcessSetting, ProcessTrial } from './process-trial.ts';
export { type SourcedTrial, steelTrials } from './steel-trials.ts';
export type { StrengthTrial, TankSetting } from './strength-trial.ts';
export { isColourOutcome, type OutcomeKind, outcomeKind, type TrialOutcome } from './trial-outcomes.ts';
export { type SettingLimits, trialLimits, type TrialLimits } from './trial-limits.ts';
export { type WithdrawalBand, type WithdrawalTrial, withdrawalTrials } from './withdrawal-trials.ts';
