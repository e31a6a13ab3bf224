import { bisect } from '../../numeric/root.ts';
import { waterDensity } from '../density-model.ts';
import { bathKgPerM3 } from './correction.ts';
import type { AdditionAmounts } from './amounts.ts';
import { dissolution, type Dissolution } from './dissolution.ts';
import type { CheckedRequest } from './request.ts';

/** What stands in the tank: at the bath's temperature, whatever the heat of mixing does for a while. */
export interface BathState {
  kg: number;
  volumeL: number;
  massFraction: number;
  gramsPerLitre: number;
  /** Null when no impurity is watched. */
  impurityGramsPerLitre: number | null;
}

export interface AdditionStep {
  action: 'decant' | 'add-water' | 'add-stock' | 'mix-and-cool' | 'analyse';
  /** To take or give; 0 where nothing is. */
  kg: number;
  /** The same in litres: bath at its temperature, water at 20 °C, liquid stock at its own. Null for solids. */
  volumeL: number | null;
  /** Equal portions to give it in, with cooling in between, so that none warms the bath by more than 5 K. */
  portions: number;
  /** Rise of the temperature at most; null when no heat of solution is on file. */
  riseK: number | null;
  /** The rise to expect, an estimate; null where there is none. */
  expectedRiseK: number | null;
  /** Held back: to be planned again from the analysis before it. */
  heldBack: boolean;
  bathAfter: BathState;
}

/** Share of an uncertain correction to give before analysing again. Common practice: 70 to 80 %. */
const firstShare = 0.75;

/** Common practice, no source. */
const mostRisePerPortionK = 5;

/** Kilograms in the tank, by kind. */
interface Contents {
  kg: number;
  soluteKg: number;
  impurityKg: number;
}

export function startOf(request: CheckedRequest): Contents {
  const { massFraction, volumeL, impurity } = request;
  const kg = (volumeL * bathKgPerM3(request, massFraction)) / 1000;
  return { kg, soluteKg: kg * massFraction, impurityKg: ((impurity?.gramsPerLitre ?? 0) * volumeL) / 1000 };
}

/** An empty tank counts as pure water of no volume. */
export function stateOf(request: CheckedRequest, { kg, soluteKg, impurityKg }: Contents): BathState {
  const { impurity } = request;
  const massFraction = kg > 0 ? soluteKg / kg : 0;
  const kgPerM3 = bathKgPerM3(request, massFraction);
  const volumeL = (1000 * kg) / kgPerM3;
  return {
    kg,
    volumeL,
    massFraction,
    gramsPerLitre: massFraction * kgPerM3,
    impurityGramsPerLitre: impurity && (volumeL > 0 ? (1000 * impurityKg) / volumeL : 0),
  };
}

/** Puts the amounts in the order to do them: make room, water, stock, mix, analyse; an uncertain correction in two goes. */
export function additionSteps(
  request: CheckedRequest,
  { amounts, uncertain }: { amounts: AdditionAmounts; uncertain: boolean },
): AdditionStep[] {
  let contents = startOf(request);
  const steps: AdditionStep[] = [];
  const step = (action: AdditionStep['action'], kg: number, heldBack: boolean): void => {
    const before = contents;
    contents = after(request, contents, { action, kg });
    const { riseK, expectedRiseK } = riseOf(request, before, { action, kg });
    steps.push({
      action,
      kg,
      volumeL: litres(request, { action, kg }),
      portions: Math.max(1, Math.ceil((riseK ?? 0) / mostRisePerPortionK)),
      riseK,
      expectedRiseK,
      heldBack,
      bathAfter: stateOf(request, contents),
    });
  };

  const { decantKg, stockKg, waterKg } = amounts;
  if (decantKg > 0) step('decant', decantKg, false);
  if (stockKg + waterKg > 0) {
    for (const share of uncertain ? [firstShare, 1 - firstShare] : [1]) {
      const heldBack = share < firstShare;
      const water = share * waterKg;
      const stock = share * stockKg;
      const waterFirst = stock > 0 ? waterThatFits(request, { contents, waterKg: water }) : water;
      if (waterFirst > 0) step('add-water', waterFirst, heldBack);
      if (stock > 0) step('add-stock', stock, heldBack);
      if (water > waterFirst) step('add-water', water - waterFirst, heldBack);
      step('mix-and-cool', 0, heldBack);
      step('analyse', 0, heldBack);
    }
  }
  return steps;
}

/**
 * Water goes in before the stock, never the other way into an empty tank. A little of it waits where the full amount
 * would overflow: a salt that shrinks the bath must first make room for it.
 */
function waterThatFits(
  request: CheckedRequest,
  { contents, waterKg }: { contents: Contents; waterKg: number },
): number {
  const roomAfter = (kg: number): number => {
    const { volumeL } = stateOf(request, after(request, contents, { action: 'add-water', kg }));
    return request.fullVolumeL + request.freeboardL - volumeL;
  };
  if (roomAfter(waterKg) >= 0) return waterKg;
  return roomAfter(0) <= 0 ? 0 : bisect({ f: roomAfter, low: 0, high: waterKg });
}

function after(
  { stock }: CheckedRequest,
  { kg, soluteKg, impurityKg }: Contents,
  done: { action: AdditionStep['action']; kg: number },
): Contents {
  if (done.action === 'decant') {
    const kept = 1 - done.kg / kg;
    return { kg: kg * kept, soluteKg: soluteKg * kept, impurityKg: impurityKg * kept };
  }
  if (done.action === 'add-stock') {
    return {
      kg: kg + done.kg,
      soluteKg: soluteKg + done.kg * stock.massFraction,
      impurityKg: impurityKg + done.kg * stock.impurityMassFraction,
    };
  }
  return { kg: kg + done.kg, soluteKg, impurityKg };
}

/** What stock or water warms the contents by; taking out, mixing and waiting warm nothing. */
function riseOf(
  { solute, stock, temperatureC }: CheckedRequest,
  contents: Contents,
  { action, kg }: { action: AdditionStep['action']; kg: number },
): Pick<Dissolution, 'riseK' | 'expectedRiseK'> {
  // Stock never goes into an empty tank, and water into one is only water.
  if ((action !== 'add-stock' && action !== 'add-water') || contents.kg === 0)
    return { riseK: 0, expectedRiseK: 0 };
  const bath = { kg: contents.kg, massFraction: contents.soluteKg / contents.kg, temperatureC };
  const given = action === 'add-stock' ? { stockKg: kg } : { stockKg: 0, waterKg: kg };
  return dissolution({ solute, stock, bath, ...given });
}

function litres(
  request: CheckedRequest,
  done: { action: AdditionStep['action']; kg: number },
): number | null {
  const { massFraction, stock } = request;
  if (done.action === 'decant') return (1000 * done.kg) / bathKgPerM3(request, massFraction);
  if (done.action === 'add-stock') return stock.kgPerM3 === null ? null : (1000 * done.kg) / stock.kgPerM3;
  return (1000 * done.kg) / waterDensity(20);
}
