import {
  analyseSample,
  bathStatus,
  CalcError,
  expressFinding,
  judgeResult,
  type SampleAnalysis,
  type SampleFinding,
  type SampleMethod,
} from '@huelot/calc';
import type { AnalysisResult, BathComponent, BathSetup, BathState } from '@huelot/contracts';
import type { ShownResult } from '$lib/lab/shown-result.ts';
import { wholeReadings, type TypedReadings } from './typed-readings.ts';

export type LiveAnalysis =
  | { state: 'incomplete' }
  /** A reading that cannot be, at its place in the form. */
  | { state: 'impossible'; path: string; words: string }
  | {
      state: 'known';
      results: ShownResult[];
      questions: string[];
      flags: string[];
      densityKgPerM3: number | null;
      /** Of the sample; null where it does not matter. */
      temperatureC: number | null;
      /** How the bath would stand with these figures. */
      bath: { state: BathState; reasons: string[] };
    };

const noLimits = { target: null, low: null, high: null, stopLow: null, stopHigh: null };

/** What typed readings say, worked out as the server will. */
export function liveAnalysis(given: {
  readings: TypedReadings;
  method: SampleMethod;
  setup: Pick<BathSetup, 'components'> | null;
  latest: readonly Pick<AnalysisResult, 'component' | 'value' | 'standardUncertainty'>[];
}): LiveAnalysis {
  const readings = wholeReadings(given.readings);
  if (readings === null) return { state: 'incomplete' };
  const components = given.setup?.components ?? [];
  try {
    const analysis = analyseSample({ readings, method: given.method });
    const results = analysis.findings.map((finding) => resultOf(analysis, finding, components));
    const latestOf = ({ key }: BathComponent) =>
      results.find(({ component }) => component === key) ??
      given.latest.find(({ component }) => component === key) ??
      null;
    const { state, reasons } = bathStatus({
      nowMs: Date.now(),
      components: components.map((one) => ({
        name: one.name,
        unit: one.unit,
        limits: one,
        latest: latestOf(one),
      })),
      plans: [],
      holds: [],
      requests: [],
    });
    const { questions, flags, densityKgPerM3, temperatureC } = analysis;
    const bath = { state, reasons };
    return { state: 'known', results, questions, flags, densityKgPerM3, temperatureC, bath };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { state: 'impossible', path: `readings.${error.argument}`, words: `allowed: ${error.allowed}` };
  }
}

function resultOf(
  analysis: SampleAnalysis,
  finding: SampleFinding,
  components: readonly BathComponent[],
): ShownResult {
  const { component } = finding;
  const watched = components.find(({ key }) => key === component);
  const expressed = watched
    ? expressFinding({
        analysis,
        component,
        unit: watched.unit,
        referenceTemperatureC: watched.referenceTemperatureC,
      })
    : finding;
  const { value, standardUncertainty, unit, referenceTemperatureC } = expressed;
  const { target, low, high, stopLow, stopHigh } = watched ?? noLimits;
  const limits = { target, low, high, stopLow, stopHigh };
  return {
    component,
    name: watched?.name ?? component,
    value,
    standardUncertainty,
    unit,
    referenceTemperatureC,
    limits,
    state: judgeResult({ value, standardUncertainty, limits }).state,
    spread: finding.spread,
    massFraction: finding.amounts?.massFraction ?? null,
    gramsPerLitre: finding.amounts?.gramsPerLitre ?? null,
  };
}
