import { molarMass } from '@huelot/calc';
import type { AnalysisResult } from '@huelot/contracts';
import type { TypedOf } from './typed-readings.ts';

type Salt = NonNullable<TypedOf<'hydrometer'>['dissolved']>[number];

/** g of aluminium in a mole of its sulfate. */
const aluminiumInSulfate = 2 * molarMass.Al;

/**
 * What other analyses of the bath found dissolved beside the solute, as a float wants it said: aluminium as its sulfate,
 * with the numbers of the analyses. Aluminium counts in sulfuric acid only.
 *
 * @example
 * dissolvedOnFile([{ component: 'Al', gramsPerLitre: 6.48, ... }], 'H2SO4').salts // [{ solute: 'Al2_SO4_3', gramsPerLitre: 41.1 }]
 */
export function dissolvedOnFile(
  latest: readonly Pick<
    AnalysisResult,
    'component' | 'unit' | 'value' | 'gramsPerLitre' | 'analysisNumber'
  >[],
  solute: string | null,
): { salts: Salt[]; numbers: string[] } {
  const found = latest.flatMap((result): { salt: Salt; analysisNumber: string }[] => {
    const { component, unit, value, gramsPerLitre, analysisNumber } = result;
    const grams = gramsPerLitre ?? (unit === 'gramsPerLitre' ? value : null);
    if (grams === null || grams <= 0) return [];
    if (component === 'K2CO3' || component === 'Na2CO3')
      return [{ salt: { solute: component, gramsPerLitre: grams }, analysisNumber }];
    if (component !== 'Al' || solute !== 'H2SO4') return [];
    const sulfate = (grams * molarMass.Al2_SO4_3) / aluminiumInSulfate;
    return [
      {
        salt: { solute: 'Al2_SO4_3', gramsPerLitre: Number(sulfate.toPrecision(4)) },
        analysisNumber,
      },
    ];
  });
  return {
    salts: found.map(({ salt }) => salt),
    numbers: [...new Set(found.map(({ analysisNumber }) => analysisNumber))],
  };
}
