export type { Consumption } from './consumption.ts';
export type { CostLine, CostLineKey } from './cost-lines.ts';
export { EXAMPLE_JOB } from './example-job.ts';
export type { Figure } from './figure.ts';
export type {
  Job,
  JobCharges,
  JobChemical,
  JobLabour,
  JobLimits,
  JobMask,
  JobPart,
  JobProcess,
  JobRack,
  JobRates,
  LoadJob,
} from './job.ts';
export { JOB_INPUTS, type JobInput } from './job-inputs.ts';
export type { LoadLimit, LoadLimitKey } from './load-limits.ts';
export type { LoadWarning } from './load-warnings.ts';
export { type LoadPlan, piecesPerLoad } from './pieces-per-load.ts';
export { type PricedJob, priceJob, type PriceStepKey } from './price-job.ts';
export { priceQuantities, type QuantityBreak } from './price-quantities.ts';
export { sensitivity, type Sensitivity } from './sensitivity.ts';
