import { checkFinite } from '../check.ts';
import { CalcError } from '../errors.ts';
import { liquidDensity } from '../bath/liquid-density.ts';
import type { Solute } from '../bath/solutes.ts';
import type { SampleAnalysis, SampleFinding } from './findings.ts';
import type { LabUnit } from './readings.ts';

/** A finding in the unit that its bath is watched in. */
export interface ExpressedFinding {
  value: number;
  standardUncertainty: number | null;
  unit: LabUnit;
  referenceTemperatureC: number | null;
}

/**
 * A finding in the unit and at the temperature its bath is watched in. A litre of the bath at another temperature holds
 * another mass: g/L and mol/L are carried over with the densities of the solute that makes the bath, found in the same
 * sample.
 *
 * Valid for every finding of {@link analyseSample}; without amounts (a meter, figures as found) only its own unit is
 * possible. Source: c = w rho(w, t), definition.
 * Errors: `impossible` for a unit that the finding cannot be said in.
 *
 * @example
 * expressFinding({
 *   analysis: analyseSample({
 *     readings: {
 *       kind: 'hydrometer',
 *       solute: 'KOH',
 *       scale: 'g/mL',
 *       calibrationTemperatureC: null,
 *       dissolved: [],
 *       replicates: [{ reading: 1.478, temperatureC: 40 }],
 *     },
 *     method: {
 *       titrant: null,
 *       uncertainty: { readingMl: 0, sampleRelative: 0, reading: 0.001 },
 *       replicates: 1,
 *       spreadLimit: 0.01,
 *     },
 *   }),
 *   component: 'KOH',
 *   unit: 'gramsPerLitre',
 *   referenceTemperatureC: 20,
 * })
 * // { value: 716.4, unit: 'gramsPerLitre', referenceTemperatureC: 20 }
 */
export function expressFinding(input: {
  analysis: SampleAnalysis;
  component: string;
  unit: LabUnit;
  referenceTemperatureC: number | null;
}): ExpressedFinding {
  checkFinite('', input);
  const { analysis, component, unit } = input;
  const finding = analysis.findings.find((one) => one.component === component);
  if (finding === undefined) throw impossible(component, 'a component that was found');
  const { amounts } = finding;
  if (amounts === null || !(unit in amounts)) {
    if (unit !== finding.unit) throw impossible(unit, `${finding.unit}, in which ${component} was found`);
    const { value, standardUncertainty, referenceTemperatureC } = finding;
    return { value, standardUncertainty, unit, referenceTemperatureC };
  }
  if (unit === 'massFraction') {
    return {
      value: amounts.massFraction,
      standardUncertainty: amounts.standardUncertainty.massFraction,
      unit,
      referenceTemperatureC: null,
    };
  }
  const name = unit === 'molPerLitre' ? 'molPerLitre' : 'gramsPerLitre';
  const scale = litreScale(analysis, input.referenceTemperatureC);
  return {
    value: amounts[name] * scale,
    standardUncertainty: amounts.standardUncertainty[name] * scale,
    unit,
    referenceTemperatureC: input.referenceTemperatureC ?? analysis.temperatureC,
  };
}

const impossible = (text: string, allowed: string): CalcError =>
  new CalcError({ code: 'impossible', argument: 'unit', given: text, allowed });

/** What a litre at the reference temperature holds over what one at the sample's temperature does. */
function litreScale(
  { findings, temperatureC }: SampleAnalysis,
  referenceTemperatureC: number | null,
): number {
  const [main] = findings;
  if (referenceTemperatureC === null || temperatureC === null || main === undefined || main.amounts === null)
    return 1;
  const solute = mainSolute(main);
  if (solute === null || main.amounts.massFraction >= 1) return 1;
  const { massFraction } = main.amounts;
  return (
    liquidDensity({ solute, massFraction, temperatureC: referenceTemperatureC }) /
    liquidDensity({ solute, massFraction, temperatureC })
  );
}

const mainSolutes: Readonly<Record<string, Solute>> = {
  KOH: 'KOH',
  NaOH: 'NaOH',
  H2SO4: 'H2SO4',
  totalSulfate: 'H2SO4',
  Na3PO4: 'Na3PO4',
  H3PO4: 'H3PO4',
  K2CO3: 'K2CO3',
  Na2CO3: 'Na2CO3',
  NH4_2SO4: 'NH4_2SO4',
};
const mainSolute = ({ component }: SampleFinding): Solute | null => mainSolutes[component] ?? null;
