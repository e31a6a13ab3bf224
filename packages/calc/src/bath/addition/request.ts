import { checkName, checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { massFractionFrom } from '../concentration.ts';
import { checkTemperature } from '../inputs.ts';
import { liquidDensity } from '../liquid-density.ts';
import { checkSolute, type Solute } from '../solutes.ts';
import { checkStrength } from '../strength.ts';

export interface AdditionStock {
  form: 'solid' | 'liquid';
  /** Purity of a solid, strength of a liquid; the rest is taken for water. A hydrate: see {@link hydrateMassFraction}. */
  massFraction: number;
  /** Of a liquid stock, default 20 °C. */
  temperatureC?: number;
  /** Of a liquid stock when the label states it. */
  densityKgPerM3?: number;
  /** Of the impurity that is being watched, default 0: flake may hold a few per cent of carbonate. */
  impurityMassFraction?: number;
}

export interface AdditionRequest {
  solute: Solute;
  /** What is in the tank now; 0 for a new bath. */
  volumeL: number;
  /** The mark. */
  fullVolumeL: number;
  /** Litres that may stand above the mark. */
  freeboardL: number;
  temperatureC: number;
  massFraction: number;
  /** How many times as heavy as the solute's own solution the bath is, by its sample: carbonate weighs; default 1. */
  densityRatio?: number;
  /** The wanted strength: this, or g/L with the temperature it is meant at. */
  targetMassFraction?: number;
  targetGramsPerLitre?: number;
  referenceTemperatureC?: number;
  stock: AdditionStock;
  /** Carbonate or metal to be brought down at the same time, in g/L at the bath's temperature. */
  impurity?: { gramsPerLitre: number; targetGramsPerLitre: number };
  /** Also top up to the mark; default true, and always for a new bath. */
  fillToMark?: boolean;
  /** The coldest the tank will get; default the bath's temperature or 20 °C, whichever is lower. */
  coldestTemperatureC?: number;
  /** Standard uncertainties of what the plan starts from; defaults 0.003 and 1 % of the mark (common practice). */
  uncertainty?: { massFraction?: number; volumeL?: number };
}

/** A request that has been checked and completed; nothing below asks again. */
export interface CheckedRequest {
  solute: Solute;
  volumeL: number;
  fullVolumeL: number;
  freeboardL: number;
  temperatureC: number;
  massFraction: number;
  densityRatio: number;
  targetMassFraction: number;
  stock: {
    form: 'solid' | 'liquid';
    massFraction: number;
    kgPerM3: number | null;
    impurityMassFraction: number;
  };
  impurity: { gramsPerLitre: number; targetGramsPerLitre: number } | null;
  fillToMark: boolean;
  coldestTemperatureC: number;
  uncertainty: { massFraction: number; volumeL: number };
}

export function checkRequest(input: AdditionRequest): CheckedRequest {
  const solute = checkSolute(input.solute);
  const fullVolumeL = checkNumber('fullVolumeL', input.fullVolumeL, { above: 0, max: 1e6 });
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const volumeL = checkNumber('volumeL', input.volumeL, { min: 0, max: 1e6 });
  const { uncertainty = {} } = input;
  return {
    solute,
    volumeL,
    fullVolumeL,
    temperatureC,
    freeboardL: checkNumber('freeboardL', input.freeboardL, { min: 0, max: 1e6 }),
    massFraction: checkStrength('massFraction', input.massFraction, solute),
    densityRatio: checkNumber('densityRatio', input.densityRatio ?? 1, { min: 0.8, max: 1.3 }),
    targetMassFraction: checkTarget(input, solute),
    stock: checkStock(input.stock, solute),
    impurity: checkImpurity(input.impurity),
    fillToMark: volumeL === 0 || (input.fillToMark ?? true),
    coldestTemperatureC: checkTemperature(
      'coldestTemperatureC',
      input.coldestTemperatureC ?? Math.min(20, temperatureC),
    ),
    uncertainty: {
      massFraction: checkNumber('uncertainty.massFraction', uncertainty.massFraction ?? 0.003, {
        min: 0,
        max: 0.5,
      }),
      volumeL: checkNumber('uncertainty.volumeL', uncertainty.volumeL ?? fullVolumeL / 100, {
        min: 0,
        max: fullVolumeL,
      }),
    },
  };
}

function checkTarget(
  { targetMassFraction, targetGramsPerLitre, referenceTemperatureC }: AdditionRequest,
  solute: Solute,
): number {
  if ((targetMassFraction === undefined) === (targetGramsPerLitre === undefined)) {
    throw new CalcError({
      code: 'malformed',
      argument: 'targetMassFraction',
      given: targetMassFraction,
      allowed: 'either it or targetGramsPerLitre with referenceTemperatureC',
    });
  }
  if (targetGramsPerLitre === undefined) {
    checkStrength('targetMassFraction', targetMassFraction, solute);
    return checkNumber('targetMassFraction', targetMassFraction, { above: 0, below: 1 });
  }
  if (referenceTemperatureC === undefined) {
    throw new CalcError({
      code: 'malformed',
      argument: 'referenceTemperatureC',
      given: referenceTemperatureC,
      allowed: 'the temperature that targetGramsPerLitre is meant at',
    });
  }
  checkNumber('targetGramsPerLitre', targetGramsPerLitre, { above: 0 });
  return massFractionFrom({
    solute,
    gramsPerLitre: targetGramsPerLitre,
    temperatureC: checkTemperature('referenceTemperatureC', referenceTemperatureC),
  }).massFraction;
}

function checkStock(input: AdditionStock, solute: Solute): CheckedRequest['stock'] {
  const form = checkName('stock.form', input.form, ['solid', 'liquid']);
  const massFraction = checkNumber('stock.massFraction', input.massFraction, { above: 0, max: 1 });
  if (form === 'liquid') checkStrength('stock.massFraction', massFraction, solute);
  const temperatureC = checkTemperature('stock.temperatureC', input.temperatureC ?? 20);
  const known = input.densityKgPerM3;
  if (known !== undefined) checkNumber('stock.densityKgPerM3', known, { min: 500, max: 3000 });
  return {
    form,
    massFraction,
    kgPerM3: form === 'liquid' ? (known ?? liquidDensity({ solute, massFraction, temperatureC })) : null,
    impurityMassFraction: checkNumber('stock.impurityMassFraction', input.impurityMassFraction ?? 0, {
      min: 0,
      max: 1 - massFraction,
    }),
  };
}

function checkImpurity(input: AdditionRequest['impurity']): CheckedRequest['impurity'] {
  if (!input) return null;
  return {
    gramsPerLitre: checkNumber('impurity.gramsPerLitre', input.gramsPerLitre, { min: 0, max: 1000 }),
    targetGramsPerLitre: checkNumber('impurity.targetGramsPerLitre', input.targetGramsPerLitre, {
      above: 0,
      max: 1000,
    }),
  };
}
