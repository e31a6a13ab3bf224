import { checkNumber } from '../../check.ts';
import { molarMass } from '../data/molar-masses.ts';
import { type Caustic, carbonateOf, checkCaustic, hydrogencarbonateOf } from '../solutes.ts';
import { type BathComponent, readFlask, type Species, type TitrationInput } from './flask.ts';
import { fromZero, notBelow, type TwoEndPoints } from './readings.ts';

export interface CausticAnalysis {
  hydroxide: BathComponent;
  carbonate: BathComponent;
  /** All alkali booked as hydroxide: what a single end point would report, too high by the carbonate. */
  totalAlkaliAsHydroxide: BathComponent;
  densityKgPerM3: number;
  flags: string[];
}

export interface TwoEndPointCausticAnalysis extends CausticAnalysis {
  /** Zero while there is hydroxide. */
  hydrogencarbonate: BathComponent;
}

interface CausticInput extends TitrationInput {
  /** The caustic of the bath. */
  solute: Caustic;
}

/**
 * Hydroxide and carbonate of a caustic bath from one flask titrated with acid: first end point phenolphthalein
 * (about pH 8.3), second methyl orange (about pH 4). `secondReading` says where the second reading counts from.
 *
 * Readings 0 to 1000 mL, titrant above 0 to 20 eq/L. Flags: carbonate below 3 % of the alkali (use barium
 * chloride), carbonate uncertain by more than 10 % (never dump a bath on one such result), no free hydroxide.
 * Source: Warder's principle; n_CO3 = C (V2 - V1), n_OH = C (2 V1 - V2) with V2 from zero; independent readings.
 * Errors: `impossible` when the second end point lies below the first or the result leaves no water;
 * `out-of-range`, `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titrateCausticTwoEndPoints({
 *   solute: 'KOH',
 *   titrantEqPerLitre: 0.5,
 *   firstEndPointMl: 13.6,
 *   secondEndPointMl: 13.95,
 *   secondReading: 'from-zero',
 *   sample: { volumeMl: 5, temperatureC: 20, dilution: { madeUpToMl: 250, takenMl: 25 } },
 * })
 * // { hydroxide: { molPerLitre: 13.25, gramsPerLitre: 743.399 }, carbonate: { gramsPerLitre: 48.37 } }
 */
export function titrateCausticTwoEndPoints(input: CausticInput & TwoEndPoints): TwoEndPointCausticAnalysis {
  const caustic = checkCaustic(input.solute);
  const [first, second] = fromZero(input);
  const carbonateSalt = carbonateOf[caustic];
  const noHydroxide = second > 2 * first;
  const carbonateWeights = noHydroxide ? [1, 0] : [-1, 1];
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl: [first, second],
    mainSolute: caustic,
    species: {
      hydroxide: hydroxideSpecies(caustic, noHydroxide ? [0, 0] : [2, -1]),
      carbonate: carbonateSpecies(caustic, carbonateWeights),
      hydrogencarbonate: {
        weights: noHydroxide ? [-2, 1] : [0, 0],
        gramsPerMol: molarMass[hydrogencarbonateOf[caustic]],
        densityAs: { solute: carbonateSalt, moles: 1 },
      },
      totalAlkaliAsHydroxide: { weights: [0, 1], gramsPerMol: molarMass[caustic] },
    },
  });
  if (noHydroxide) flags.push('no free hydroxide: carbonate and hydrogencarbonate only; check the readings');
  return { ...components, densityKgPerM3, flags: [...flags, ...carbonateFlags(components)] };
}

/**
 * Hydroxide and carbonate of a caustic bath from two equal portions: one titrated to methyl orange (`totalMl`),
 * the other to phenolphthalein after excess neutral barium chloride has thrown the carbonate out (`hydroxideMl`).
 *
 * Readings 0 to 1000 mL, titrant above 0 to 20 eq/L. The sample is one portion. Flags as the two-end-point method,
 * whose weak spot, small carbonate, this method is for.
 * Source: Winkler's principle; n_OH = C V_OH, n_CO3 = C (V_T - V_OH)/2; independent readings.
 * Errors: `impossible` when the hydroxide takes more than the total or the result leaves no water; `out-of-range`,
 * `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titrateCausticBariumChloride({
 *   solute: 'KOH',
 *   titrantEqPerLitre: 0.5,
 *   totalMl: 27.35,
 *   hydroxideMl: 26.6,
 *   sample: { massG: 1.5, temperatureC: 20 },
 * })
 * // { hydroxide: { massFraction: 0.497470 }, carbonate: { massFraction: 0.0172756 } }
 */
export function titrateCausticBariumChloride(
  input: CausticInput & { totalMl: number; hydroxideMl: number },
): CausticAnalysis {
  const caustic = checkCaustic(input.solute);
  const total = checkNumber('totalMl', input.totalMl, { min: 0, max: 1000 });
  const hydroxide = checkNumber('hydroxideMl', input.hydroxideMl, { min: 0, max: 1000 });
  notBelow({ argument: 'totalMl', value: total, least: hydroxide, what: 'hydroxide reading' });
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl: [total, hydroxide],
    mainSolute: caustic,
    species: {
      hydroxide: hydroxideSpecies(caustic, [0, 1]),
      carbonate: carbonateSpecies(caustic, [0.5, -0.5]),
      totalAlkaliAsHydroxide: { weights: [1, 0], gramsPerMol: molarMass[caustic] },
    },
  });
  return { ...components, densityKgPerM3, flags: [...flags, ...uncertainCarbonate(components.carbonate)] };
}

const hydroxideSpecies = (caustic: Caustic, weights: readonly number[]): Species => ({
  weights,
  gramsPerMol: molarMass[caustic],
  densityAs: { solute: caustic, moles: 1 },
});

const carbonateSpecies = (caustic: Caustic, weights: readonly number[]): Species => ({
  weights,
  gramsPerMol: molarMass[carbonateOf[caustic]],
  densityAs: { solute: carbonateOf[caustic], moles: 1 },
});

function carbonateFlags(found: {
  carbonate: BathComponent;
  totalAlkaliAsHydroxide: BathComponent;
}): string[] {
  const share = (2 * found.carbonate.molPerLitre) / found.totalAlkaliAsHydroxide.molPerLitre;
  const small = share < 0.03 ? ['carbonate below 3 % of the alkali: use the barium chloride method'] : [];
  return [...small, ...uncertainCarbonate(found.carbonate)];
}

function uncertainCarbonate(carbonate: BathComponent): string[] {
  const { molPerLitre, standardUncertainty } = carbonate;
  return standardUncertainty.molPerLitre > 0.1 * molPerLitre
    ? ['carbonate uncertain by more than 10 %: repeat before acting on it']
    : [];
}
