import { checkName, checkNumber } from '../../check.ts';
import { molarMass } from '../data/molar-masses.ts';
import { type BathComponent, readFlask, type TitrationInput } from './flask.ts';
import { notBelow } from './readings.ts';

export interface SulfuricAcidAnalysis {
  acid: BathComponent;
  densityKgPerM3: number;
  flags: string[];
}

export interface SulfuricAluminiumAnalysis {
  freeAcid: BathComponent;
  aluminium: BathComponent;
  /** Free acid and the sulfate bound to aluminium, as H2SO4: what one end point without fluoride would report. */
  totalSulfateAsAcid: BathComponent;
  densityKgPerM3: number;
  flags: string[];
}

/**
 * Sulfuric acid from one end point with sodium hydroxide. `aluminium` says what becomes of dissolved aluminium:
 * `none` in the bath, `masked` with fluoride (takes no base), or `counted` (end point above about pH 4 without
 * fluoride), which reads 5.45 g/L of acid too much for each g/L of aluminium and is flagged.
 *
 * Reading 0 to 1000 mL, titrant above 0 to 20 eq/L. The density of the acid alone links g/L and wt%.
 * Source: stoichiometry, 49.04 g per equivalent.
 * Errors: `impossible` when the result leaves no water; `out-of-range`, `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titrateSulfuricAcid({
 *   titrantEqPerLitre: 1,
 *   endPointMl: 18.4,
 *   aluminium: 'masked',
 *   sample: { volumeMl: 5, temperatureC: 20 },
 * })
 * // { acid: { gramsPerLitre: 180.465, molPerLitre: 1.84 }, flags: [] }
 */
export function titrateSulfuricAcid(
  input: TitrationInput & { endPointMl: number; aluminium: 'none' | 'masked' | 'counted' },
): SulfuricAcidAnalysis {
  const endPoint = checkNumber('endPointMl', input.endPointMl, { min: 0, max: 1000 });
  const aluminium = checkName('aluminium', input.aluminium, ['none', 'masked', 'counted']);
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl: [endPoint],
    mainSolute: 'H2SO4',
    species: {
      acid: { weights: [1 / 2], gramsPerMol: molarMass.H2SO4, densityAs: { solute: 'H2SO4', moles: 1 } },
    },
  });
  if (aluminium === 'counted') {
    flags.push('aluminium counted as acid: this is total sulfate, not free acid');
  }
  return { ...components, densityKgPerM3, flags };
}

/**
 * Free sulfuric acid and dissolved aluminium of an anodizing bath with sodium hydroxide. Method `fluoride`: two
 * equal portions, both to phenolphthalein, one with neutralised potassium fluoride (`acidMl`), one without
 * (`totalMl`). Method `two-end-points`: one flask, methyl orange at `acidMl`, then on to phenolphthalein at
 * `totalMl`; coarser, flagged.
 *
 * Readings 0 to 1000 mL, titrant above 0 to 20 eq/L. The density is that of acid with aluminium sulfate.
 * Source: trade journal procedure (free acid 49.04 B N/v, aluminium 8.994 (A - B) N/v; published factors 4.9 and
 * 0.9). Fluoride etches glass and is toxic: plastic ware, and the safety data sheet first.
 * Errors: `impossible` when the total lies below the acid or the result leaves no water; `out-of-range`,
 * `not-finite` or `unknown` for the inputs.
 *
 * @example
 * titrateSulfuricAluminium({
 *   method: 'fluoride',
 *   titrantEqPerLitre: 1.005,
 *   acidMl: 37.1,
 *   totalMl: 45.2,
 *   sample: { volumeMl: 10, temperatureC: 20 },
 * })
 * // { freeAcid: { gramsPerLitre: 182.846 }, aluminium: { gramsPerLitre: 7.32157 } }
 */
export function titrateSulfuricAluminium(
  input: TitrationInput & { method: 'fluoride' | 'two-end-points'; acidMl: number; totalMl: number },
): SulfuricAluminiumAnalysis {
  const method = checkName('method', input.method, ['fluoride', 'two-end-points']);
  const acid = checkNumber('acidMl', input.acidMl, { min: 0, max: 1000 });
  const total = checkNumber('totalMl', input.totalMl, { min: 0, max: 1000 });
  notBelow({ argument: 'totalMl', value: total, least: acid, what: 'acid reading' });
  const { components, densityKgPerM3, flags } = readFlask({
    input: input,
    readingsMl: [acid, total],
    mainSolute: 'H2SO4',
    species: {
      freeAcid: {
        weights: [1 / 2, 0],
        gramsPerMol: molarMass.H2SO4,
        densityAs: { solute: 'H2SO4', moles: 1 },
      },
      aluminium: {
        weights: [-1 / 3, 1 / 3],
        gramsPerMol: molarMass.Al,
        densityAs: { solute: 'Al2_SO4_3', moles: 1 / 2 },
      },
      totalSulfateAsAcid: { weights: [0, 1 / 2], gramsPerMol: molarMass.H2SO4 },
    },
  });
  if (method === 'two-end-points')
    flags.push('methyl orange drifts with aluminium: coarser than the fluoride method');
  return { ...components, densityKgPerM3, flags };
}
