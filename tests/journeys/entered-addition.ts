import type { NewBathSetup, Solute } from '@huelot/contracts';
import type { Printed } from '../../packages/calc/reference/worked-examples.ts';

/** A figure on the page: where it stands, its unit, what the source prints. */
type Shown = readonly [place: string, unit: string, right: Printed];

export interface EnteredAddition {
  name: string;
  kind: 'chemical' | 'water' | 'make-up';
  /** Monitoring plan; the rest of its setup is the same for all. */
  setup: { solute: Solute; fullVolumeL: number; freeboardL: number; inLitres?: boolean; impurity?: boolean };
  stock: { form: 'solid' | 'liquid'; massFraction: number; densityKgPerM3?: number };
  /** What is typed, by the name of the field behind `request.`, in the units that it is typed in. */
  typed: Readonly<Record<string, number>>;
  /** mm below the mark, read off the dip stick. */
  dipMm?: number;
  facts?: readonly Shown[];
  steps?: readonly Shown[];
  /** Steps that must not be there. */
  without?: readonly string[];
  /** Sentences of the plan. */
  words?: readonly Shown[];
  /** What it warms by, all at once. */
  warmsK?: { about?: Printed; most: Printed };
  /** Behind the figure for warming. */
  heatKj?: Printed;
  /** Of the record: the row and column of the bath before and after. */
  record?: readonly (readonly [row: string, column: 'Before' | 'After', unit: string, right: Printed])[];
}

/** What every bath of the examples is watched by, apart from what the example says. */
export const setupOf = ({ setup, typed }: EnteredAddition): NewBathSetup => {
  const { solute, fullVolumeL, freeboardL, inLitres = false, impurity = false } = setup;
  const limits = { target: null, low: null, high: null, stopLow: null, stopHigh: null };
  const perLitre = { ...limits, unit: 'gramsPerLitre' as const };
  const main = { key: solute, name: solute };
  return {
    ...{ solute, fullVolumeL, freeboardL, coldestTemperatureC: null, dragOutLPerM2: 0, plans: [] },
    // The examples plan from typed strengths, without an analysis.
    secondAnalysisAboveShare: 1,
    workingTemperatureC: 40,
    impurity: impurity ? { component: 'K2CO3', aimGramsPerLitre: 30 } : null,
    components: [
      inLitres
        ? { ...main, ...perLitre, referenceTemperatureC: 20, target: 170 }
        : { ...main, ...limits, unit: 'massFraction', referenceTemperatureC: null, target: 0.1 },
      ...(impurity
        ? [
            {
              ...{ key: 'K2CO3', name: 'carbonate', ...perLitre, high: 50 },
              referenceTemperatureC: typed['temperatureC'] ?? 20,
            },
          ]
        : []),
    ],
    reason: 'first setup',
  };
};
