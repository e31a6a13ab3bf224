import { combineUncertainties, type UncertaintyContribution } from './combine-uncertainties.ts';

/** A thickness that was measured, with what its uncertainty comes of. */
export interface ThicknessFigure {
  thicknessNm: number;
  standardUncertaintyNm: number;
  /** Null where no scatter is in it. */
  degreesOfFreedom: number | null;
  /** 95 %; its lower end is never below 0. */
  intervalNm: { low: number; high: number };
  /** Each in nm, the largest first. */
  contributions: UncertaintyContribution[];
}

export function thicknessFigure(
  thicknessNm: number,
  contributions: readonly UncertaintyContribution[],
): ThicknessFigure {
  const { standardUncertainty, degreesOfFreedom, coverageFactor } = combineUncertainties({ contributions });
  const half = coverageFactor * standardUncertainty;
  return {
    thicknessNm,
    standardUncertaintyNm: standardUncertainty,
    degreesOfFreedom,
    intervalNm: { low: Math.max(0, thicknessNm - half), high: thicknessNm + half },
    contributions: contributions.toSorted((a, b) => b.standardUncertainty - a.standardUncertainty),
  };
}
