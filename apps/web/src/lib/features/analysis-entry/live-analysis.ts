import {
  analyseSample,
  bathStatus,
  CalcError,
  expressFinding,
  faultWords,
  figureWords,
  impossibleAmount,
  judgeResult,
  resultDoubts,
  resultQuestion,
  type SampleAnalysis,
  type SampleFinding,
  type SampleMethod,
} from '@huelot/calc';
import type {
  AnalysisBackground,
  AnalysisResult,
  BathComponent,
  BathSetup,
  BathState,
} from '@huelot/contracts';
import type { ShownResult } from '$lib/features/lab/shown-result.ts';
import { wholeReadings, wrongReading, type TypedReadings } from './typed-readings.ts';

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
export function liveAnalysis(input: {
  readings: TypedReadings;
  method: SampleMethod;
  setup: Pick<BathSetup, 'components'> | null;
  latest: readonly Pick<AnalysisResult, 'component' | 'value' | 'standardUncertainty'>[];
  /** What the results are judged against; null where the server judges by another, as of a correction. */
  background: AnalysisBackground | null;
}): LiveAnalysis {
  const readings = wholeReadings(input.readings);
  if (readings === null) {
    const wrong = wrongReading(input.readings);
    return wrong === null ? { state: 'incomplete' } : { state: 'impossible', ...wrong };
  }
  const components = input.setup?.components ?? [];
  try {
    const analysis = analyseSample({ readings, method: input.method });
    const results = analysis.findings.map((finding) => resultOf(analysis, finding, components));
    const impossible = results.findIndex((result) => impossibleAmount(result) !== null);
    if (impossible >= 0) return cannotBe(results[impossible], { index: impossible, kind: readings.kind });
    const latestOf = ({ key }: BathComponent) =>
      results.find(({ component }) => component === key) ??
      input.latest.find(({ component }) => component === key) ??
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
    const { flags, densityKgPerM3, temperatureC } = analysis;
    const doubts = input.background ? resultDoubts({ results, background: input.background }) : [];
    const questions = [...analysis.questions, ...doubts.map(resultQuestion)];
    const bath = { state, reasons };
    return { state: 'known', results, questions, flags, densityKgPerM3, temperatureC, bath };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { state: 'impossible', path: `readings.${error.path}`, words: faultWords(error) };
  }
}

function cannotBe(
  result: ShownResult | undefined,
  { index, kind }: { index: number; kind: string },
): LiveAnalysis {
  const bounds = result && impossibleAmount(result);
  const words =
    result && bounds
      ? `no bath has ${result.name} of ${figureWords(result.value, result.unit)}: allowed is ${figureWords(bounds.low, result.unit)} to ${figureWords(bounds.high, result.unit)}`
      : '';
  return {
    state: 'impossible',
    path: kind === 'plain' ? `readings.values.${index}.value` : 'readings',
    words,
  };
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
