import { percent } from '../inputs.ts';
import { densityFlags } from '../liquid-density.ts';
import { type AdditionAmounts, additionAmounts, type AmountsRefusal } from './amounts.ts';
import { type AdditionCaution, cautionsFor } from './cautions.ts';
import { amountsUncertainty, correctionOf } from './correction.ts';
import { dissolution } from './dissolution.ts';
import { type AdditionRequest, checkRequest, type CheckedRequest } from './request.ts';
import { saturation } from './saturation.ts';
import { additionSteps, type AdditionStep, type BathState, startOf, stateOf } from './steps.ts';

export interface AdditionAmount {
  kg: number;
  /** Null for a solid. */
  volumeL: number | null;
  standardUncertaintyKg: number;
}

export interface AdditionPlan {
  possible: true;
  decant: AdditionAmount;
  water: AdditionAmount;
  stock: AdditionAmount;
  steps: AdditionStep[];
  bathBefore: BathState;
  bathAfter: BathState;
  /** Of the whole addition at once, at most; null when no heat of solution is on file. Warnings go by it. */
  temperatureRiseK: number | null;
  /** What is to be expected of it, an estimate; null where there is none. */
  expectedRiseK: number | null;
  /** The correction is known to worse than a fifth of itself: give part of it, analyse, plan again. */
  uncertain: boolean;
  cautions: AdditionCaution[];
  flags: string[];
}

export interface AdditionRefusal {
  possible: false;
  reason: AmountsRefusal | 'would-crystallise';
  explanation: string;
  flags: string[];
}

/** A correction this uncertain is given in two goes. Common practice, no source. */
const mostUncertain = 0.2;

/**
 * What to decant, and how much water and stock then bring a bath to its strength and, unless `fillToMark` is
 * false, to its mark: raising, lowering, restoring evaporation, filling, cutting an impurity by a partial dump,
 * and making up a new bath (volumeL 0). The bath may rise `freeboardL` above the mark before anything is decanted;
 * then only as much is decanted as must be. Everything is reckoned in kilograms. The steps stand in the order to do
 * them: decant, water, stock, mix, analyse; what little water would overflow before the stock has shrunk the bath
 * comes after it. Water for less than half a per cent of the level is left out, which is flagged.
 *
 * Valid for the solutes of {@link density}, its flags included; target above 0 and below 1. A plan that is no plan
 * comes back as `possible: false`: a stock not stronger than the target, a stock that brings in more impurity than
 * is allowed, a strength that crystallises at the coldest temperature. Amounts carry the standard uncertainty that
 * those of strength and level give them. The density is that of the solute alone, times `densityRatio`
 * where the sample of the bath was weighed or titrated with what else it holds.
 * Source: mass balances; heat of solution by {@link dissolution}, saturation by {@link saturation}.
 * Errors: `malformed` for no target or two; `unknown` solute; `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * planAddition({
 *   solute: 'KOH',
 *   volumeL: 400,
 *   fullVolumeL: 400,
 *   freeboardL: 30,
 *   temperatureC: 60,
 *   massFraction: 0.47,
 *   targetMassFraction: 0.5,
 *   stock: { form: 'solid', massFraction: 0.9 },
 * })
 * // { possible: true, stock: { kg: 43.4823 }, water: { kg: 0 }, decant: { kg: 0 }, bathAfter: { volumeL: 419.779 } }
 */
export function planAddition(input: AdditionRequest): AdditionPlan | AdditionRefusal {
  const request = checkRequest(input);
  const saturated = saturation({ solute: request.solute, temperatureC: request.coldestTemperatureC });
  const flags = [...strengthFlags(request), ...saturated.flags];
  const { targetMassFraction, coldestTemperatureC } = request;
  if (saturated.massFraction !== null && targetMassFraction >= saturated.massFraction) {
    const strengths = `${percent(targetMassFraction)} is wanted, ${percent(saturated.massFraction)} is saturated`;
    const explanation = `${request.solute} would crystallise by ${coldestTemperatureC} °C: ${strengths}`;
    return { possible: false, reason: 'would-crystallise', explanation, flags };
  }
  const worth = worthPouring(request);
  const amounts = additionAmounts(correctionOf(worth));
  if (typeof amounts === 'string') {
    return { possible: false, reason: amounts, explanation: explain(amounts, request), flags };
  }
  if (worth !== request) flags.push('a little water to the mark is left out: less than 0.5 % of the level');
  return planOf(worth, amounts, flags);
}

/** Water is not poured into a bath for less than this share of its level. Common practice, no source. */
const leastWaterShare = 0.005;

/** The request, without filling to the mark where only a little water would be missing to it. */
function worthPouring(request: CheckedRequest): CheckedRequest {
  if (!request.fillToMark || request.volumeL === 0) return request;
  const full = additionAmounts(correctionOf(request));
  if (typeof full === 'string' || full.waterKg === 0) return request;
  const without = { ...request, fillToMark: false };
  const { bathKg, markKg } = correctionOf(without);
  const low = additionAmounts(correctionOf(without));
  if (typeof low === 'string' || low.waterKg > 0) return request;
  const missingKg = markKg - (bathKg - low.decantKg + low.stockKg);
  return missingKg > 0 && missingKg < leastWaterShare * markKg ? without : request;
}

function planOf(request: CheckedRequest, amounts: AdditionAmounts, flags: string[]): AdditionPlan {
  const uncertainty = amountsUncertainty(request, amounts);
  const lowering = request.massFraction > request.targetMassFraction;
  const [main, uMain] = lowering
    ? [amounts.waterKg, uncertainty.waterKg]
    : [amounts.stockKg, uncertainty.stockKg];
  const uncertain = main > 0 && uMain > mostUncertain * main;

  const start = startOf(request);
  const bathBefore = stateOf(request, start);
  const steps = additionSteps(request, { amounts, uncertain });
  const bathAfter = steps.at(-1)?.bathAfter ?? bathBefore;
  const heat = dissolution({
    solute: request.solute,
    stock: request.stock,
    stockKg: amounts.stockKg,
    waterKg: amounts.waterKg,
    bath: {
      kg: start.kg - amounts.decantKg,
      massFraction: bathBefore.massFraction,
      temperatureC: request.temperatureC,
    },
  });
  const amount = (
    action: AdditionStep['action'],
    kg: number,
    standardUncertaintyKg: number,
  ): AdditionAmount => {
    const taken = steps.filter((step) => step.action === action);
    const solid = action === 'add-stock' && request.stock.form === 'solid';
    const volumeL = taken.reduce((sum, step) => sum + (step.volumeL ?? 0), 0);
    return { kg, volumeL: solid ? null : volumeL, standardUncertaintyKg };
  };
  // A hair of rounding above the mark is no news.
  const aboveMark = bathAfter.volumeL > request.fullVolumeL * (1 + 1e-9);
  return {
    possible: true,
    decant: amount('decant', amounts.decantKg, uncertainty.decantKg),
    water: amount('add-water', amounts.waterKg, uncertainty.waterKg),
    stock: amount('add-stock', amounts.stockKg, uncertainty.stockKg),
    steps,
    bathBefore,
    bathAfter,
    temperatureRiseK: heat.riseK,
    expectedRiseK: heat.expectedRiseK,
    uncertain,
    cautions: cautionsFor(request, { steps, riseK: heat.riseK }),
    flags: [
      ...flags,
      ...(request.densityRatio === 1
        ? []
        : [
            `the bath is weighed by its sample, ${Number((100 * Math.abs(request.densityRatio - 1)).toPrecision(2))} % ${request.densityRatio > 1 ? 'heavier' : 'lighter'} than ${request.solute} and water alone`,
          ]),
      // Of a salt nothing is on file, and water on it is no news.
      ...(amounts.stockKg > 0 || heat.riseK !== null ? heat.flags : []),
      ...(aboveMark ? ['ends above the mark, within the freeboard'] : []),
      ...(uncertain
        ? ['the correction is uncertain by more than a fifth: give part of it and analyse again']
        : []),
    ],
  };
}

function strengthFlags({ solute, massFraction, targetMassFraction, temperatureC }: CheckedRequest): string[] {
  const strongest = Math.max(massFraction, targetMassFraction);
  return densityFlags({ solute, massFraction: strongest, temperatureC });
}

function explain(reason: AmountsRefusal, { stock, targetMassFraction, impurity }: CheckedRequest): string {
  if (reason === 'stock-not-stronger') {
    return `the stock, ${percent(stock.massFraction)}, is not stronger than the target, ${percent(targetMassFraction)}`;
  }
  return `the stock alone brings in more than ${impurity?.targetGramsPerLitre} g/L of the impurity`;
}
