import type { ComponentUnit, Limits, ResultState } from '@huelot/contracts';

/** What a row needs: a result of the record, or one that was only just computed. */
export interface ShownResult {
  component: string;
  name: string;
  value: number;
  standardUncertainty: number | null;
  unit: ComponentUnit;
  referenceTemperatureC: number | null;
  limits: Limits;
  state: ResultState;
  spread?: number | null;
  /** The same amount said in other ways. */
  massFraction?: number | null;
  gramsPerLitre?: number | null;
}
