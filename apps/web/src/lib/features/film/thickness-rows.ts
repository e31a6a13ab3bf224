import { type Agreement, normalisedError } from '@huelot/calc';
import type { CouponFilm } from '@huelot/contracts';
import { methodNames } from './film-words.ts';

/** A thickness on the picture of a coupon. */
export interface ThicknessRow {
  /** `FM-1, cross-section`. */
  name: string;
  href: string;
  thicknessNm: number;
  standardUncertaintyNm: number;
  intervalNm: { low: number; high: number };
  isOptical: boolean;
}

/** Everything that says how thick the film of a coupon is; what was measured of another piece is left out. */
export function thicknessRows({
  measurements,
  optical,
}: Pick<CouponFilm, 'measurements' | 'optical'>): ThicknessRow[] {
  const measured = measurements.flatMap(({ id, number, result, isOfAnother }) => {
    if (isOfAnother || !('thicknessNm' in result)) return [];
    const { thicknessNm, standardUncertaintyNm, intervalNm } = result;
    return [
      {
        ...{ name: `${number}, ${methodNames[result.kind]}`, href: `/colour-bench/film/${id}` },
        ...{ thicknessNm, standardUncertaintyNm, intervalNm, isOptical: false },
      },
    ];
  });
  if (optical === null) return measured;
  const { calibration, ...figures } = optical;
  const law = {
    ...{ name: `${calibration.code}, by colour and voltage`, href: `/calibrations/${calibration.id}` },
    ...{ ...figures, isOptical: true },
  };
  return [...measured, law];
}

export interface Comparison {
  one: ThicknessRow;
  other: ThicknessRow;
  differenceNm: number;
  normalisedError: number;
  agreement: Agreement;
}

/**
 * Every two methods, judged against each other.
 *
 * @example
 * comparisons(rows).map(({ agreement }) => agreement) // ['agree']
 */
export const comparisons = (rows: readonly ThicknessRow[]): Comparison[] =>
  rows.flatMap((one, index) =>
    rows.slice(index + 1).map((other) => {
      const figureOf = ({ thicknessNm, standardUncertaintyNm }: ThicknessRow) => ({
        ...{ value: thicknessNm, standardUncertainty: standardUncertaintyNm },
      });
      const judged = normalisedError({ one: figureOf(one), other: figureOf(other) });
      return {
        ...{ one, other, differenceNm: judged.difference },
        ...{ normalisedError: judged.normalisedError, agreement: judged.agreement },
      };
    }),
  );
