import { checkNumber } from '../check.ts';
import { concentrationFromHydrometer } from '../bath/titration/hydrometer.ts';
import { CalcError } from '../errors.ts';
import type { SampleAnalysis, SampleFinding } from './findings.ts';
import { combine } from './combine.ts';
import { missingReplicates, spreadQuestion, within } from './questions.ts';
import type { HydrometerReadings, LabUnit, MeterReadings, SampleMethod } from './readings.ts';

const none = () =>
  new CalcError({ code: 'malformed', argument: 'replicates', given: 0, allowed: 'at least one reading' });

/** Strength by a float, averaged; the density of the last reading stands for the sample. */
export function analyseByFloat(readings: HydrometerReadings, method: SampleMethod): SampleAnalysis {
  const { solute, scale, calibrationTemperatureC, dissolved } = readings;
  const found = readings.replicates.map(({ reading, temperatureC }, index) =>
    within(`replicates.${index}`, () =>
      concentrationFromHydrometer({
        solute,
        scale,
        reading,
        sampleTemperatureC: temperatureC,
        ...(calibrationTemperatureC === null ? {} : { calibrationTemperatureC }),
        ...(dissolved === null ? {} : { dissolved }),
        ...(scale === 'g/mL' ? { uncertainty: { gramsPerMl: method.uncertainty.reading } } : {}),
      }),
    ),
  );
  const [first] = found;
  const temperatureC = readings.replicates[0]?.temperatureC;
  if (first === undefined || temperatureC === undefined) throw none();
  const { component } = first;
  const of = (name: 'massFraction' | 'gramsPerLitre' | 'molPerLitre') =>
    combine(
      found.map((one) => one.component[name]),
      { common: 0, own: component.standardUncertainty[name] },
    );
  const [massFraction, gramsPerLitre, molPerLitre] = [
    of('massFraction'),
    of('gramsPerLitre'),
    of('molPerLitre'),
  ];
  const spread = massFraction.range === null ? null : massFraction.range / massFraction.value;
  const questions = missingReplicates(found.length, method);
  if (spread !== null && massFraction.beyondRepeatability)
    questions.push(
      ...spreadQuestion({ component: solute, spread, limit: method.spreadLimit, relative: true }),
    );
  return {
    findings: [
      {
        component: solute,
        value: gramsPerLitre.value,
        standardUncertainty: gramsPerLitre.standardUncertainty,
        unit: 'gramsPerLitre',
        referenceTemperatureC: temperatureC,
        amounts: {
          massFraction: massFraction.value,
          gramsPerLitre: gramsPerLitre.value,
          molPerLitre: molPerLitre.value,
          standardUncertainty: {
            massFraction: massFraction.standardUncertainty,
            gramsPerLitre: gramsPerLitre.standardUncertainty,
            molPerLitre: molPerLitre.standardUncertainty,
          },
        },
        spread,
      },
    ],
    temperatureC,
    densityKgPerM3: found.reduce((sum, one) => sum + one.densityKgPerM3, 0) / found.length,
    questions,
    flags: [...new Set(found.flatMap(({ flags }) => flags))],
  };
}

const meters: Readonly<
  Record<MeterReadings['kind'], { component: string; unit: LabUnit; relative: boolean }>
> = {
  ph: { component: 'pH', unit: 'pH', relative: false },
  conductivity: { component: 'conductivity', unit: 'siemensPerM', relative: true },
  turbidity: { component: 'turbidity', unit: 'ntu', relative: true },
};

/** What a meter showed, averaged. */
export function analyseByMeter(readings: MeterReadings, method: SampleMethod): SampleAnalysis {
  const { component, unit, relative } = meters[readings.kind];
  const values = readings.replicates.map(({ reading }, index) =>
    checkNumber(
      `replicates.${index}.reading`,
      reading,
      readings.kind === 'ph' ? { min: -2, max: 16 } : { min: 0 },
    ),
  );
  if (values.length === 0) throw none();
  const { reading: own, readingRelative } = method.uncertainty;
  const mean = values.reduce((sum, one) => sum + Math.abs(one), 0) / values.length;
  const { value, standardUncertainty, range, beyondRepeatability } = combine(values, {
    common: (readingRelative ?? 0) * mean,
    own,
  });
  const spread = range === null ? null : relative ? (value === 0 ? 0 : range / value) : range;
  const questions = missingReplicates(values.length, method);
  if (spread !== null && beyondRepeatability)
    questions.push(...spreadQuestion({ component, spread, limit: method.spreadLimit, relative }));
  if (readings.kind === 'ph' && (value < 0 || value > 14))
    questions.push('a glass electrode is not to be trusted below pH 0 or above pH 14: titrate instead');
  const finding: SampleFinding = {
    component,
    value,
    standardUncertainty,
    unit,
    referenceTemperatureC: null,
    amounts: null,
    spread,
  };
  return {
    findings: [finding],
    temperatureC: readings.temperatureC,
    densityKgPerM3: null,
    questions,
    flags: [],
  };
}
