export { type RackChoice, racksByLoads, racksByPrice } from './compare-racks.ts';
export type { Consumption } from './consumption.ts';
export type { CostLineKey } from './cost-amounts.ts';
export type { CostLine } from './cost-lines.ts';
export { EXAMPLE_JOB, EXAMPLE_QUOTED_JOB } from './example-job.ts';
export type { Figure } from './figure.ts';
export type {
  Job,
  JobCharges,
  JobChemical,
  JobCurrency,
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
export {
  type ChemicalRates,
  chemicalsFromStock,
  type ChemicalUse,
  type StockedChemicals,
} from './chemicals-from-stock.ts';
export type { LoadLimitKey } from './load-limits.ts';
export type { LoadWarning } from './load-warnings.ts';
export { unitPrice, unitPriceDigits } from './money.ts';
export { type LoadLimit, type LoadPlan, piecesPerLoad } from './pieces-per-load.ts';
export { type PricedJob, priceJob } from './price-job.ts';
export type { PriceStepKey } from './price-steps.ts';
export { priceQuantities, type QuantityBreak } from './price-quantities.ts';
export { sensitivity, type Sensitivity } from './sensitivity.ts';
export {
  type QuotedFamilyRates,
  quotedJob,
  type QuotedJob,
  type QuotedOptions,
  type QuotedRates,
  type RouteStep,
} from './quoted-job.ts';
