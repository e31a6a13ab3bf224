import type { Amounts } from '../bath/titration/flask.ts';
import { CalcError } from '../errors.ts';
import type { SampleAnalysis, SampleFinding } from './findings.ts';
import { combine, splitUncertainty } from './combine.ts';
import { flaskFindings, type FlaskFindings, titrationUncertainty } from './flask-findings.ts';
import { missingReplicates, spreadQuestion, within } from './questions.ts';
import type { SampleMethod, TitrationReadings } from './readings.ts';

/** A sample this warm loses water and takes up carbon dioxide on the bench. Common practice, no source. */
const warmSampleC = 40;

/** Averages the flasks of a titration, component by component. */
export function analyseByTitration(readings: TitrationReadings, method: SampleMethod): SampleAnalysis {
  const { titrant, ...uncertainty } = titrationUncertainty(method);
  const flasksWith = (changed: Partial<typeof uncertainty>): FlaskFindings[] =>
    readings.replicates.map((_, index) =>
      within(`replicates.${index}`, () =>
        flaskFindings({
          readings,
          at: index,
          titrantEqPerLitre: titrant,
          uncertainty: { ...uncertainty, ...changed },
        }),
      ),
    );
  const flasks = flasksWith({});
  const [first] = flasks;
  const [shared] = flasksWith({ readingMl: 0, sampleRelative: 0 });
  if (first === undefined || shared === undefined)
    throw new CalcError({
      code: 'malformed',
      argument: 'replicates',
      given: 0,
      allowed: 'one to four flasks',
    });

  const questions = missingReplicates(flasks.length, method);
  const findings = first.components.map(([component, whole], index): SampleFinding => {
    const withoutOwn = shared.components[index]?.[1] ?? whole;
    const of = (name: keyof Amounts) =>
      combine(
        flasks.map(({ components }) => components[index]?.[1][name] ?? NaN),
        splitUncertainty({ name, whole, withoutOwn }),
      );
    const [massFraction, gramsPerLitre, molPerLitre] = [
      of('massFraction'),
      of('gramsPerLitre'),
      of('molPerLitre'),
    ];
    // Weighed samples are compared by what was weighed, pipetted ones by the litre.
    const judged = readings.basis === 'mass' ? massFraction : gramsPerLitre;
    const spread =
      judged.range === null ? null : judged.value === 0 ? 0 : judged.range / Math.abs(judged.value);
    if (judged.beyondRepeatability && spread !== null)
      questions.push(...spreadQuestion({ component, spread, limit: method.spreadLimit, relative: true }));
    return {
      component,
      value: gramsPerLitre.value,
      standardUncertainty: gramsPerLitre.standardUncertainty,
      unit: 'gramsPerLitre',
      referenceTemperatureC: readings.temperatureC,
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
    };
  });
  if (readings.temperatureC > warmSampleC)
    questions.push(
      `the sample was taken at ${readings.temperatureC} °C: let it cool closed, then take the portion`,
    );
  const [main] = findings;
  if (readings.kind.startsWith('caustic') && main !== undefined && main.value <= 0)
    questions.push('no free hydroxide was found: the second reading is at least twice the first');
  return {
    findings,
    temperatureC: readings.temperatureC,
    densityKgPerM3: flasks.reduce((sum, flask) => sum + flask.densityKgPerM3, 0) / flasks.length,
    questions,
    flags: [...new Set(flasks.flatMap(({ flags }) => flags))],
  };
}
