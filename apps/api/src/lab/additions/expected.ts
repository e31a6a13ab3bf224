import { bathAfterAdditions, type BathMove, CalcError, density, massFractionFrom } from '@huelot/calc';
import type { AdditionSheet, AnalysisResult, BathSetup, Solute } from '@huelot/contracts';
import { type AdditionRow, stateOf } from './queries.ts';

const roomC = 20;

/** The strength that was found last, whatever unit the bath is watched in. */
export function strengthFound(
  setup: BathSetup | null,
  latest: readonly AnalysisResult[],
): {
  strength: Omit<NonNullable<AdditionSheet['strength']>, 'volumeL' | 'densityRatio'>;
  sampledAt: string;
} | null {
  const result = latest.find(({ component }) => component === setup?.solute);
  if (!setup?.solute || !result) return null;
  const massFraction = shareOf(result, setup.solute);
  if (massFraction === null) return null;
  const { value, standardUncertainty, analysisId, analysisNumber, sampledAt } = result;
  const relative = standardUncertainty === null || value <= 0 ? null : standardUncertainty / value;
  return {
    strength: {
      massFraction,
      standardUncertainty: relative === null ? null : relative * massFraction,
      analysisId,
      analysisNumber,
    },
    sampledAt,
  };
}

/**
 * A bath that is watched in g/L gets its share from them as its target does, by the density of the solute alone. The share
 * found is of a bath that dissolved metal makes denser: beside such a target it would pass for weaker than it is.
 */
function shareOf(result: AnalysisResult, solute: Solute): number | null {
  const { unit, value, massFraction } = result;
  if (unit === 'massFraction') return value;
  if (unit !== 'gramsPerLitre') return massFraction;
  const temperatureC = result.referenceTemperatureC ?? roomC;
  return orNull(() => massFractionFrom({ solute, gramsPerLitre: value, temperatureC }).massFraction);
}

/** A sample that is further from its solute's own solution than this is no density to plan by. */
const ratioLimits = [0.8, 1.3] as const;

/**
 * How many times as heavy as the solute's own solution a sample was: carbonate and metal weigh too. Null where the sample's
 * density is not on file, and where the bath is planned by g/L, whose share is that of the solute alone.
 */
export function densityRatio(options: {
  setup: BathSetup | null;
  found: { massFraction: number };
  sample: { densityKgPerM3: number | null; temperatureC: number | null };
}): number | null {
  const { setup, found, sample } = options;
  const watched = setup?.components.find(({ key }) => key === setup.solute);
  if (!setup?.solute || watched?.unit !== 'massFraction') return null;
  const { densityKgPerM3, temperatureC } = sample;
  if (densityKgPerM3 === null || temperatureC === null) return null;
  const { solute } = setup;
  const pure = orNull(() => density({ solute, massFraction: found.massFraction, temperatureC }).kgPerM3);
  const ratio = pure === null ? null : densityKgPerM3 / pure;
  return ratio === null || ratio < ratioLimits[0] || ratio > ratioLimits[1] ? null : ratio;
}

/**
 * How a bath should stand by what was really added and taken since its strength was found: whoever plans next plans
 * from there, and not from before it, so that nothing is added twice.
 */
export function expectedBath({
  setup,
  found,
  densityRatio,
  additions,
}: {
  setup: BathSetup | null;
  found: ReturnType<typeof strengthFound>;
  /** Of the sample whose strength was found; null where it says nothing of it. */
  densityRatio: number | null;
  additions: readonly AdditionRow[];
}): AdditionSheet['expected'] {
  if (!setup?.solute) return null;
  const { solute, workingTemperatureC: temperatureC } = setup;
  const sinceMs = found === null ? 0 : Date.parse(found.sampledAt);
  const finishedMs = (row: AdditionRow) => row.finishedAt?.getTime() ?? 0;
  const done = additions
    .filter((row) => stateOf(row) === 'done' && finishedMs(row) > sinceMs && movesOf(row, solute).length > 0)
    .toSorted((one, other) => finishedMs(one) - finishedMs(other));
  const [first] = done;
  const madeUp = first?.kind === 'make-up';
  if (!first || (found === null && !madeUp)) return null;
  const after = orNull(() =>
    bathAfterAdditions({
      solute,
      temperatureC,
      massFraction: madeUp ? 0 : (found?.strength.massFraction ?? 0),
      volumeL: madeUp ? 0 : (first.volumeBeforeL ?? first.computed?.bathBefore?.volumeL ?? setup.fullVolumeL),
      ...(madeUp || densityRatio === null ? {} : { densityRatio }),
      moves: done.flatMap((row) => movesOf(row, solute)),
    }),
  );
  if (after === null) return null;
  const { massFraction, dilution } = after;
  const volumeL = done.at(-1)?.volumeAfterL ?? after.volumeL;
  return { massFraction, volumeL, dilution, additions: done.map(({ number }) => number) };
}

const movesOf = ({ lines }: AdditionRow, solute: Solute): BathMove[] =>
  lines.flatMap(({ action, kg, chemical }) => {
    if (action === 'filter' || action === 'electrode' || kg === 0) return [];
    return [{ action, kg, massFraction: chemical?.solute === solute ? chemical.assayMassFraction : 0 }];
  });

/** Figures that no bath can have, as of a decant of more than stood there, tell nothing. */
function orNull<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof CalcError) return null;
    throw error;
  }
}
