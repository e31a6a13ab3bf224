import {
  analyseSample,
  CalcError,
  expressFinding,
  faultWords,
  figureWords,
  impossibleAmount,
  judgeResult,
  type SampleAnalysis,
} from '@huelot/calc';
import type { AnalysisReadings, BathComponent, BathSetup, MethodSettings } from '@huelot/contracts';
import { fieldError } from '../../kernel/refusal.ts';
import type { NewResult } from './write-queries.ts';

export interface Computed {
  results: NewResult[];
  densityKgPerM3: number | null;
  questions: string[];
  flags: string[];
}

/**
 * Works raw readings out to results in the units that the bath is watched in, judged by the limits of that setup.
 * A reading that cannot be is refused with its place in the form.
 */
export function computeAnalysis({
  readings,
  settings,
  titrant,
  setup,
}: {
  readings: AnalysisReadings;
  settings: MethodSettings;
  titrant: { eqPerLitre: number; standardUncertaintyEqPerLitre: number } | null;
  setup: BathSetup | null;
}): Computed {
  const components = setup?.components ?? [];
  const analysis = analysed({ readings, settings, titrant });
  const results = analysis.findings.map(({ component, amounts, spread }, index): NewResult => {
    const watched = components.find(({ key }) => key === component);
    const expressed = expressedAs(analysis, { component, watched, at: index });
    const bounds = impossibleAmount({ component, ...expressed });
    if (bounds !== null)
      throw fieldError(
        readings.kind === 'plain' ? `readings.values.${index}.value` : 'readings',
        `no bath has ${watched?.name ?? component} of ${figureWords(expressed.value, expressed.unit)}: allowed is ${figureWords(bounds.low, expressed.unit)} to ${figureWords(bounds.high, expressed.unit)}`,
      );
    const limits = {
      target: watched?.target ?? null,
      low: watched?.low ?? null,
      high: watched?.high ?? null,
      stopLow: watched?.stopLow ?? null,
      stopHigh: watched?.stopHigh ?? null,
    };
    return {
      component,
      name: watched?.name ?? component,
      ...expressed,
      massFraction: amounts?.massFraction ?? null,
      gramsPerLitre: amounts?.gramsPerLitre ?? null,
      spread,
      ...limits,
      state: judgeResult({ ...expressed, limits }).state,
    };
  });
  const { densityKgPerM3, questions, flags } = analysis;
  return { results, densityKgPerM3, questions, flags };
}

function analysed({
  readings,
  settings,
  titrant,
}: Omit<Parameters<typeof computeAnalysis>[0], 'setup'>): SampleAnalysis {
  try {
    return analyseSample({ readings, method: { ...settings, titrant } });
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw fieldError(`readings.${error.path}`, faultWords(error));
  }
}

function expressedAs(
  analysis: SampleAnalysis,
  { component, watched, at }: { component: string; watched: BathComponent | undefined; at: number },
) {
  const finding = analysis.findings[at];
  const unit = watched?.unit ?? finding?.unit ?? 'judgement';
  const own = finding?.referenceTemperatureC ?? null;
  const meant = watched?.referenceTemperatureC ?? null;
  if (finding?.amounts === null && watched !== undefined) {
    if (finding.unit !== unit)
      throw fieldError(
        `readings.values.${at}.unit`,
        `must be ${unit}, the unit in which this bath monitors ${component}`,
      );
    if (own !== null && own !== meant)
      throw fieldError(
        `readings.values.${at}.referenceTemperatureC`,
        `must be ${meant ?? 'empty'}, as in the monitoring plan`,
      );
  }
  const { value, standardUncertainty } = expressFinding({
    analysis,
    component,
    unit,
    referenceTemperatureC: watched === undefined ? own : meant,
  });
  return { value, standardUncertainty, unit, referenceTemperatureC: watched === undefined ? own : meant };
}
