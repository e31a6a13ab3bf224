export { processMap, type ProcessMapPoint } from './process-map.ts';
export type { ProcessSetting, ProcessTrial, TrialOutcome } from './process-trial.ts';
export { type SourcedTrial, steelTrials } from './steel-trials.ts';
export { type WithdrawalBand, type WithdrawalTrial, withdrawalTrials } from './withdrawal-trials.ts';
