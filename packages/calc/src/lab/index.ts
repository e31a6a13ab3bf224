export { analyseSample } from './analyse-sample.ts';
export { bathStatus, type BathStatus, type BathStatusInput, type WatchedComponent } from './bath-status.ts';
export { type ExpressedFinding, expressFinding } from './express-finding.ts';
export { type SampleAnalysis, type SampleFinding } from './findings.ts';
export { type CalibrationReading, judgeCalibration, type JudgedCalibration } from './judge-calibration.ts';
export { figureWords, judgeResult, type ResultLimits, type ResultState } from './judge-result.ts';
export { type PlanProgress, type StatusPlan } from './plan-progress.ts';
export { type LabUnit, type SampleMethod, type SampleReadings } from './readings.ts';
export {
  type LevelRequest,
  type StockLot,
  type StrengthRequest,
  writtenAddition,
  writtenTopUp,
  type WrittenStep,
} from './written-plan.ts';
