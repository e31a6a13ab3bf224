import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { SampleAnalysis, SampleFinding } from './findings.ts';
import { analyseByFloat, analyseByMeter } from './other-readings.ts';
import { analyseByTitration } from './titration-findings.ts';
import type { SampleMethod, SampleReadings } from './readings.ts';

/**
 * Results of one sample from its raw readings: titrations of every kind, hydrometer, meters, a look, or figures as
 * found. Replicates are averaged; the spread is questioned when it is above the method's limit and more than the
 * readings' own uncertainty explains. Other questions: fewer replicates than the method wants, a titration without
 * hydroxide where caustic was expected, a warm sample, a pH off the scale.
 *
 * Valid for 1 to 4 replicates; ranges as the functions of each method. The uncertainty of a mean keeps whole what all
 * replicates share (titrant, density) and divides what each has of its own.
 * Source: the titration functions; critical range by ISO 5725-6 (from memory); 40 °C for a warm sample is common
 * practice, no source.
 * Errors: an impossible reading throws with its place, `replicates.1.secondEndPointMl`; `malformed` for a titration
 * without titrant or readings without replicates.
 *
 * @example
 * analyseSample({
 *   readings: {
 *     kind: 'caustic-two-end-points',
 *     solute: 'KOH',
 *     secondReading: 'from-zero',
 *     basis: 'volume',
 *     temperatureC: 20,
 *     dilution: { madeUpToMl: 250, takenMl: 25 },
 *     blankMl: 0,
 *     replicates: [{ amount: 5, firstEndPointMl: 13.6, secondEndPointMl: 13.95 }],
 *   },
 *   method: {
 *     titrant: { eqPerLitre: 0.5, standardUncertaintyEqPerLitre: 0.0005 },
 *     uncertainty: { readingMl: 0.03, sampleRelative: 0.006, reading: 0 },
 *     replicates: 1,
 *     spreadLimit: 0.02,
 *   },
 * }).findings[0]
 * // { component: 'KOH', value: 743.399, unit: 'gramsPerLitre', referenceTemperatureC: 20 }
 */
export function analyseSample(input: { readings: SampleReadings; method: SampleMethod }): SampleAnalysis {
  const { readings } = input;
  const method = checkMethod(input.method);
  switch (readings.kind) {
    case 'hydrometer':
      return analyseByFloat(readings, method);
    case 'ph':
    case 'conductivity':
    case 'turbidity':
      return analyseByMeter(readings, method);
    case 'appearance':
      return asFound([
        {
          component: 'appearance',
          value: readings.good ? 1 : 0,
          standardUncertainty: null,
          unit: 'judgement',
          referenceTemperatureC: null,
        },
      ]);
    case 'plain':
      return asFound(readings.values);
    default:
      return analyseByTitration(readings, method);
  }
}

function asFound(values: readonly Omit<SampleFinding, 'amounts' | 'spread'>[]): SampleAnalysis {
  const findings = values.map((found, index) => {
    checkNumber(`values.${index}.value`, found.value);
    if (values.findIndex(({ component }) => component === found.component) !== index) {
      throw new CalcError({
        code: 'malformed',
        argument: `values.${index}.component`,
        given: found.component,
        allowed: 'each component once',
      });
    }
    return { ...found, amounts: null, spread: null };
  });
  return { findings, temperatureC: null, densityKgPerM3: null, questions: [], flags: [] };
}

function checkMethod(input: SampleMethod): SampleMethod {
  const { uncertainty } = input;
  return {
    ...input,
    uncertainty: {
      readingMl: checkNumber('method.uncertainty.readingMl', uncertainty.readingMl, { min: 0 }),
      sampleRelative: checkNumber('method.uncertainty.sampleRelative', uncertainty.sampleRelative, {
        min: 0,
        below: 1,
      }),
      reading: checkNumber('method.uncertainty.reading', uncertainty.reading, { min: 0 }),
      readingRelative: checkNumber('method.uncertainty.readingRelative', uncertainty.readingRelative ?? 0, {
        min: 0,
        below: 1,
      }),
    },
    replicates: checkWhole('method.replicates', input.replicates, { min: 1, max: 4 }),
    spreadLimit: checkNumber('method.spreadLimit', input.spreadLimit, { above: 0 }),
  };
}
