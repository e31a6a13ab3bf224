import { molarMass } from '../data/molar-masses.ts';
import { type BathComponent, readFlask, type TitrationInput } from './flask.ts';
import { fromZero, type TwoEndPoints } from './readings.ts';
import { completeUncertainty } from './sample.ts';

export interface PhosphateAnalysis {
  /** All phosphorus, expressed as Na3PO4. */
  totalAsNa3PO4: BathComponent;
  trisodiumPhosphate: BathComponent;
  /** Na2HPO4: present when acid has eaten into the phosphate; then there is no free hydroxide. */
  hydrogenPhosphate: BathComponent;
  freeHydroxide: BathComponent;
  /** `totalAsNa3PO4` as what comes out of the bag, Na3PO4·12H2O. */
  totalAsDodecahydrate: BathComponent;
  densityKgPerM3: number;
  flags: string[];
}

export interface PhosphoricAcidAnalysis {
  phosphoricAcid: BathComponent;
  /** Another acid, strong or weak, as equivalents: mol/L of a one-proton acid. */
  otherAcidMolPerLitre: number;
  densityKgPerM3: number;
  flags: string[];
}

/** Na3PO4·12H2O, g/mol. */
const dodecahydrate = molarMass.Na3PO4 + 12 * molarMass.H2O;

/**
 * Trisodium phosphate and free sodium hydroxide of a phosphate bath, titrated with acid: first end point
 * thymolphthalein (about pH 9 to 10), second methyl orange or bromocresol green (about pH 4.5). Carbonate counts
 * like phosphate: boil it out at the acid end point, or accept the bias.
 *
 * Readings 0 to 1000 mL, titrant above 0 to 20 eq/L.
 * Source: stoichiometry; n_P = C (V2 - V1), n_OH = C (2 V1 - V2) where positive, else PO4 = C V1 and HPO4 = C (V2
 * - 2 V1), V2 from zero; independent readings. The third proton has no usable end point.
 * Errors: `impossible` when the second end point lies below the first or the result leaves no water;
 * `out-of-range`, `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titratePhosphate({
 *   titrantEqPerLitre: 0.1,
 *   firstEndPointMl: 31.4,
 *   secondEndPointMl: 60.5,
 *   secondReading: 'from-zero',
 *   sample: { volumeMl: 10, temperatureC: 20 },
 * })
 * // { totalAsNa3PO4: { gramsPerLitre: 47.7065 }, freeHydroxide: { molPerLitre: 0.023 } }
 */
export function titratePhosphate(input: TitrationInput & TwoEndPoints): PhosphateAnalysis {
  const readingsMl = fromZero(input);
  const [first, second] = readingsMl;
  const acidified = second > 2 * first;
  const asNa3PO4 = { gramsPerMol: molarMass.Na3PO4, densityAs: { solute: 'Na3PO4', moles: 1 } } as const;
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl,
    mainSolute: 'Na3PO4',
    species: {
      totalAsNa3PO4: { weights: [-1, 1], ...asNa3PO4 },
      totalAsDodecahydrate: { weights: [-1, 1], gramsPerMol: dodecahydrate },
      trisodiumPhosphate: { weights: acidified ? [1, 0] : [-1, 1], gramsPerMol: molarMass.Na3PO4 },
      hydrogenPhosphate: { weights: acidified ? [-2, 1] : [0, 0], gramsPerMol: molarMass.Na2HPO4 },
      freeHydroxide: {
        weights: acidified ? [0, 0] : [2, -1],
        gramsPerMol: molarMass.NaOH,
        densityAs: { solute: 'NaOH', moles: 1 },
      },
    },
  });
  if (acidified) flags.push('no free hydroxide: part of the phosphate is hydrogen phosphate');
  return {
    ...components,
    densityKgPerM3,
    flags,
  };
}

/**
 * Phosphoric acid titrated with sodium hydroxide: first end point methyl orange (one proton), second
 * phenolphthalein (two). A second end point short of twice the first means strong acid beside it, past twice the
 * first another weak acid.
 *
 * Readings 0 to 1000 mL, titrant above 0 to 20 eq/L. A difference within three standard uncertainties is taken for
 * none.
 * Source: stoichiometry; c = C V1/v = C V2/(2 v) for the acid alone.
 * Errors: `impossible` when the second end point lies below the first or the result leaves no water;
 * `out-of-range`, `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titratePhosphoricAcid({
 *   titrantEqPerLitre: 0.5,
 *   firstEndPointMl: 8.2,
 *   secondEndPointMl: 16.4,
 *   secondReading: 'from-zero',
 *   sample: { volumeMl: 2, temperatureC: 20 },
 * })
 * // { phosphoricAcid: { gramsPerLitre: 200.8877 }, otherAcidMolPerLitre: 0 }
 */
export function titratePhosphoricAcid(input: TitrationInput & TwoEndPoints): PhosphoricAcidAnalysis {
  const readingsMl = fromZero(input);
  const [first, second] = readingsMl;
  const excess = second - 2 * first;
  const { readingMl } = completeUncertainty(input.uncertainty);
  const other = Math.abs(excess) <= 3 * Math.sqrt(5) * readingMl ? 'none' : excess > 0 ? 'weak' : 'strong';
  const weights = { none: [0, 1 / 2], weak: [1, 0], strong: [-1, 1] }[other];
  const otherWeights = { none: [0, 0], weak: [-2, 1], strong: [2, -1] }[other];
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl,
    mainSolute: 'H3PO4',
    species: {
      phosphoricAcid: { weights, gramsPerMol: molarMass.H3PO4, densityAs: { solute: 'H3PO4', moles: 1 } },
      otherAcid: { weights: otherWeights, gramsPerMol: 1 },
    },
  });
  if (other !== 'none')
    flags.push(`another ${other} acid is present: the end points do not lie at one to two`);
  return {
    phosphoricAcid: components.phosphoricAcid,
    otherAcidMolPerLitre: components.otherAcid.molPerLitre,
    densityKgPerM3,
    flags,
  };
}
