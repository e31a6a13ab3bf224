import { checkNumber } from '../check.ts';

/**
 * One thickness out of several methods: their mean weighted by what each knows, with an uncertainty that grows where they differ by
 * more than they claim.
 *
 * 1 to 50 figures above 0 nm with standard uncertainties above 0. The Birge ratio is 1 where methods differ as much as they claim;
 * above 1 the uncertainty is multiplied by it, below it is left.
 * Source: weighted mean, textbook; R. T. Birge, Phys. Rev. 40 (1932) 207 (from memory).
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * const figure = (thicknessNm: number) => ({ thicknessNm, standardUncertaintyNm: 10 });
 * combineThicknesses({ figures: [figure(190), figure(230)] }) // { thicknessNm: 210, standardUncertaintyNm: 20, birgeRatio: 2.828 }
 */
export function combineThicknesses({
  figures,
}: {
  figures: readonly { thicknessNm: number; standardUncertaintyNm: number }[];
}): { thicknessNm: number; standardUncertaintyNm: number; birgeRatio: number | null } {
  const count = checkNumber('figures.length', figures.length, { min: 1, max: 50 });
  const read = figures.map(({ thicknessNm, standardUncertaintyNm }, index) => ({
    nm: checkNumber(`figures[${index}].thicknessNm`, thicknessNm, { above: 0, max: 1e9 }),
    weight:
      checkNumber(`figures[${index}].standardUncertaintyNm`, standardUncertaintyNm, {
        min: 1e-6,
        max: 1e9,
      }) ** -2,
  }));
  const weights = read.reduce((sum, { weight }) => sum + weight, 0);
  const thicknessNm = read.reduce((sum, { nm, weight }) => sum + nm * weight, 0) / weights;
  const claimed = 1 / Math.sqrt(weights);
  const birgeRatio =
    count === 1
      ? null
      : Math.sqrt(
          read.reduce((sum, { nm, weight }) => sum + weight * (nm - thicknessNm) ** 2, 0) / (count - 1),
        );
  return { thicknessNm, standardUncertaintyNm: claimed * Math.max(1, birgeRatio ?? 1), birgeRatio };
}
