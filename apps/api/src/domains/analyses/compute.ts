import { analyseSample, CalcError, expressFinding, judgeResult, type SampleAnalysis } from '@huelot/calc';
import type { AnalysisReadings, BathComponent, BathSetup, MethodSettings } from '@huelot/contracts';
import { invalid } from '../../refusal.ts';
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
export function computeAnalysis(of: {
  readings: AnalysisReadings;
  settings: MethodSettings;
  titrant: { eqPerLitre: number; standardUncertaintyEqPerLitre: number } | null;
  setup: BathSetup | null;
}): Computed {
  const { readings, settings, titrant, setup } = of;
  const components = setup?.components ?? [];
  const analysis = analysed({ readings, settings, titrant });
  const results = analysis.findings.map(({ component, amounts, spread }, at): NewResult => {
    const watched = components.find(({ key }) => key === component);
    const expressed = expressedAs(analysis, { component, watched, at });
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

function analysed(of: Omit<Parameters<typeof computeAnalysis>[0], 'setup'>): SampleAnalysis {
  const { readings, settings, titrant } = of;
  try {
    return analyseSample({ readings, method: { ...settings, titrant } });
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw invalid(`readings.${error.argument}`, `is ${String(error.given)}; allowed: ${error.allowed}`);
  }
}

function expressedAs(
  analysis: SampleAnalysis,
  of: { component: string; watched: BathComponent | undefined; at: number },
) {
  const { component, watched, at } = of;
  const finding = analysis.findings[at];
  const unit = watched?.unit ?? finding?.unit ?? 'judgement';
  const own = finding?.referenceTemperatureC ?? null;
  const meant = watched?.referenceTemperatureC ?? null;
  if (finding?.amounts === null && watched !== undefined) {
    if (finding.unit !== unit)
      throw invalid(
        `readings.values.${at}.unit`,
        `must be ${unit}, in which this bath is watched for ${component}`,
      );
    if (own !== null && own !== meant)
      throw invalid(
        `readings.values.${at}.referenceTemperatureC`,
        `must be ${meant ?? 'empty'}, as in the setup of the bath`,
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
