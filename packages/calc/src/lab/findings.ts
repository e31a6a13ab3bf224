import type { Amounts } from '../bath/titration/flask.ts';
import type { LabUnit } from './readings.ts';

/** One thing found in a sample. */
export interface SampleFinding {
  /** `KOH`, `K2CO3`, `Al`, `pH`; `totalAlkali` and `totalSulfate` are what one end point alone would have said. */
  component: string;
  value: number;
  standardUncertainty: number | null;
  unit: LabUnit;
  /** Temperature that g/L and mol/L are stated at; null for units that need none. */
  referenceTemperatureC: number | null;
  /** The same amount in every way of saying it, at the sample's temperature, each with its uncertainty; null for a meter. */
  amounts: (Amounts & { standardUncertainty: Amounts }) | null;
  /** Range over the mean (the range itself for pH); null for one reading. */
  spread: number | null;
}

export interface SampleAnalysis {
  findings: SampleFinding[];
  /** Of the sample; null where it does not matter. */
  temperatureC: number | null;
  densityKgPerM3: number | null;
  /** Doubtful readings, one sentence each: repeat them, or say why they stand. */
  questions: string[];
  /** What the calculation says of its own limits. */
  flags: string[];
}
