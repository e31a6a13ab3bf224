import { additionDoubts, portionGate, secondAnalysis } from '@huelot/calc';
import { additionDoubtWords, type AdditionSheet, secondAnalysisWords } from '@huelot/contracts';
import type { PlanValues, TypedStep } from './plan-form.ts';

interface Planned {
  sheet: AdditionSheet;
  kind: PlanValues['kind'];
  steps: readonly TypedStep[];
  /** What stands in the tank now, where it is typed. */
  volumeL: number | null;
  /** Of the plan; null where nothing is computed. */
  bathKg: number | null;
  startMassFraction: number | null;
}

/** What each step moves, for arithmetic: a figure that nobody typed yet moves nothing. */
export const stepMoves = (steps: readonly Pick<TypedStep, 'action' | 'kg' | 'volumeL'>[]) =>
  steps.map(({ action, kg, volumeL }) => ({ action, kg: kg ?? 0, volumeL }));

/** The sentence that the server refuses a large addition with, while it is typed; null where none is needed. */
export function wantsSecondAnalysis({
  sheet,
  kind,
  steps,
  bathKg,
  startMassFraction,
}: Planned): string | null {
  const { setup, strengthAnalyses: analyses } = sheet;
  if (setup?.solute == null || kind === 'make-up') return null;
  const stockKg = stepMoves(steps).reduce(
    (sum, { action, kg }) => (action === 'add-stock' ? sum + kg : sum),
    0,
  );
  const weighs = bathKg ?? setup.fullVolumeL;
  if (weighs <= 0) return null;
  const wanted = secondAnalysis({
    stockKg,
    bathKg: weighs,
    mostShare: setup.secondAnalysisAboveShare,
    analyses,
    startMassFraction,
  });
  return (
    wanted &&
    secondAnalysisWords(
      { ...wanted, stockKg },
      analyses.map(({ number }) => number),
    )
  );
}

/** What speaks against a plan by the room of the tank; the reason answers it. */
export function planDoubts({ sheet, steps, volumeL }: Planned): string[] {
  const readings = { beforeC: null, afterC: null, stopAboveC: null, maxC: null };
  const doubts = additionDoubts({ ...readings, volumeL, moves: stepMoves(steps), roomL: roomOf(sheet) });
  return doubts.map(additionDoubtWords);
}

/** Up to how many litres the tank may be filled. */
export const roomOf = ({ setup, tankLimits }: Pick<AdditionSheet, 'setup' | 'tankLimits'>): number =>
  setup === null ? tankLimits.brimL : Math.min(tankLimits.brimL, setup.fullVolumeL + setup.freeboardL);

/** Up to where a portion may go in, and from where the next one may; null where a step warms nothing to speak of. */
export function gateOf(
  { riseK, portions }: { riseK: number | null; portions: number },
  { sheet, workingC }: { sheet: Pick<AdditionSheet, 'setup' | 'tankLimits'>; workingC?: number | null },
): ReturnType<typeof portionGate> | null {
  const workingTemperatureC = workingC ?? sheet.setup?.workingTemperatureC ?? null;
  if (riseK === null || riseK < 1 || workingTemperatureC === null) return null;
  return portionGate({ workingTemperatureC, maxC: sheet.tankLimits.maxC, riseK: riseK / portions });
}
