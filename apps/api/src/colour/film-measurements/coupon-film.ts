import { combineThicknesses } from '@huelot/calc';
import type { CouponFilm, CouponTrial, FilmThicknessMean } from '@huelot/contracts';
import { readFiles, toStoredFile } from '../../core/files/index.ts';
import type { SqlExecutor } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { readOpticalThickness } from '../calibrations/index.ts';
import { readCouponSeries } from '../coupons/index.ts';
import * as queries from './queries.ts';
import { isSameCoupon } from './same-coupon.ts';

/** A coupon of a series with everything that counts of its film. */
export async function readCouponFilm(
  execute: SqlExecutor,
  { seriesId, mark }: { seriesId: number; mark: string },
): Promise<CouponFilm> {
  const { id, code, revision, contents, material, trials } = await readCouponSeries(execute, seriesId);
  const coupon = trials.find((trial) => trial.mark === mark);
  if (mark === '' || coupon === undefined)
    throw new DomainError('not-found', `There is no coupon ${mark} in ${code} revision ${revision}.`);
  const rows = await queries.readOfCoupon(execute, { code, mark });
  const files = await readFiles(
    execute,
    rows.flatMap(({ fileId }) => fileId ?? []),
  );
  const measurements = rows.map(({ fileId, ...row }) => {
    const file = files.find((one) => one.id === fileId);
    return {
      ...row,
      file: file === undefined ? null : toStoredFile(file),
      isOfAnother: !isSameCoupon(row.coupon, coupon),
    };
  });
  const figures = measurements.flatMap(({ result, isOfAnother }) =>
    'thicknessNm' in result && !isOfAnother ? [result] : [],
  );
  return {
    series: { id, code, revision, contents, material },
    coupon,
    measurements,
    thickness: meanOf(figures),
    optical: await readOpticalThickness(execute, {
      ...{ materialId: material.id, contents, voltageV: coupon.voltageV },
    }),
  };
}

/** The thickness of a coupon of a series by its code, as far as its film was measured and it is still that piece. */
export type ThicknessOf = (code: string, coupon: CouponTrial) => FilmThicknessMean | null;

export async function readFilmThicknesses(
  execute: SqlExecutor,
  codes: readonly string[],
): Promise<ThicknessOf> {
  const rows = await queries.readThicknesses(execute, codes);
  return (code, coupon) =>
    coupon.mark === ''
      ? null
      : meanOf(rows.filter((row) => row.code === code && isSameCoupon(row.coupon, coupon)));
}

function meanOf(
  figures: readonly { thicknessNm: number; standardUncertaintyNm: number }[],
): FilmThicknessMean | null {
  if (figures.length === 0) return null;
  const { thicknessNm, standardUncertaintyNm } = combineThicknesses({ figures });
  return { thicknessNm, standardUncertaintyNm, measurements: figures.length };
}
