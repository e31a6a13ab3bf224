import { liquidEndsAt } from '../data/solubility.ts';
import { liquidDensity } from '../liquid-density.ts';
import { type AdditionAmounts, additionAmounts, type Correction } from './amounts.ts';
import type { CheckedRequest } from './request.ts';

/** Density of the bath at a strength: that of the solute's solution, heavier by what else is dissolved in it. */
export const bathKgPerM3 = (
  { solute, temperatureC, densityRatio }: Pick<CheckedRequest, 'solute' | 'temperatureC' | 'densityRatio'>,
  massFraction: number,
): number => densityRatio * liquidDensity({ solute, massFraction, temperatureC });

/** The request in kilograms. */
export function correctionOf(request: CheckedRequest): Correction {
  const { massFraction, targetMassFraction, impurity, stock } = request;
  const kgPerM3 = bathKgPerM3(request, massFraction);
  const targetKgPerM3 = bathKgPerM3(request, targetMassFraction);
  return {
    bathKg: (request.volumeL * kgPerM3) / 1000,
    massFraction,
    targetMassFraction,
    stockMassFraction: stock.massFraction,
    markKg: (request.fullVolumeL * targetKgPerM3) / 1000,
    limitKg: ((request.fullVolumeL + request.freeboardL) * targetKgPerM3) / 1000,
    fillToMark: request.fillToMark,
    impurity: impurity && {
      inBath: impurity.gramsPerLitre / kgPerM3,
      inStock: stock.impurityMassFraction,
      allowed: impurity.targetGramsPerLitre / targetKgPerM3,
    },
  };
}

/** Half the difference that one standard uncertainty up and down makes, for strength and level, added in squares. */
export function amountsUncertainty(request: CheckedRequest, amounts: AdditionAmounts): AdditionAmounts {
  const { solute, massFraction, volumeL, uncertainty } = request;
  const amountsAt = (changed: Partial<CheckedRequest>): AdditionAmounts => {
    const there = additionAmounts(correctionOf({ ...request, ...changed }));
    return typeof there === 'string' ? amounts : there;
  };
  const pairs = [
    [
      amountsAt({ massFraction: Math.min(liquidEndsAt[solute], massFraction + uncertainty.massFraction) }),
      amountsAt({ massFraction: Math.max(0, massFraction - uncertainty.massFraction) }),
    ],
    [
      amountsAt({ volumeL: volumeL + uncertainty.volumeL }),
      amountsAt({ volumeL: Math.max(0, volumeL - uncertainty.volumeL) }),
    ],
  ] as const;
  const combined = (key: keyof AdditionAmounts): number =>
    Math.hypot(...pairs.map(([up, down]) => (up[key] - down[key]) / 2));
  return { decantKg: combined('decantKg'), stockKg: combined('stockKg'), waterKg: combined('waterKg') };
}
