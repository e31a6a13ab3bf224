import { CalcError, CALC_VERSION, type FilmGrowth, fitFilmGrowth, nextCoupon } from '@huelot/calc';
import { type GrowthFit } from '@huelot/calc';
import {
  calibratedMetals,
  calibrationCoupons,
  type CalibrationCoupon,
  type CalibrationFit,
  type CouponSeries,
  type NewCalibration,
} from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { readCouponSeries } from '../coupons/index.ts';
import type { Written } from './queries.ts';

/** A law as calc takes it: that its constants exist was checked when it was fitted. */
export const asGrowth = (growth: CalibrationFit['growth']): FilmGrowth => growth as FilmGrowth;
const asFit = (fit: CalibrationFit): GrowthFit => fit as GrowthFit;

/** What is stored of a calibration as it was entered: its coupons as their series show them, and the law through them. */
export async function fitted(tx: Tx, input: NewCalibration): Promise<Written> {
  const { rejected, ...facts } = input;
  const series = await readSeries(tx, input.seriesIds);
  const [first] = series;
  if (first === undefined) throw fieldError('seriesIds', 'needs at least one series');
  const coupons = series.flatMap((one) => calibrationCoupons(one, rejected));
  rejected.forEach(({ seriesId, position }, index) => {
    if (!coupons.some((coupon) => coupon.seriesId === seriesId && coupon.position === position))
      throw fieldError(`rejected.${index}.position`, `is no measured coupon with a voltage of these series`);
  });
  const used = coupons.filter((coupon) => coupon.rejected === null);
  const trials = series.flatMap((one) => one.trials.filter((_, index) => isUsed(used, one.id, index + 1)));
  const fit = fitOf(input, { coupons: used, trials, series: first });
  const { material, contents } = first;
  return { ...facts, materialId: material.id, contents, coupons, fit, calcVersion: CALC_VERSION };
}

async function readSeries(tx: Tx, ids: readonly number[]): Promise<CouponSeries[]> {
  const series: CouponSeries[] = [];
  for (const [index, id] of ids.entries()) {
    const path = `seriesIds.${index}`;
    if (ids.indexOf(id) !== index) throw fieldError(path, 'is listed twice');
    const one = await readCouponSeries(tx.execute, id).catch((error: unknown) => {
      if (error instanceof DomainError && error.code === 'not-found')
        throw fieldError(path, `there is no coupon series ${id}`);
      throw error;
    });
    const name = `${one.code} rev ${one.revision}`;
    if (one.status === 'draft') throw fieldError(path, `${name} is a draft: it is approved first`);
    if (one.status === 'retired') throw fieldError(path, `${name} is retired: ${one.endReason}`);
    if (!calibratedMetals.some((metal) => metal === one.material.baseMetal))
      throw fieldError(
        path,
        `${name} is of ${one.material.baseMetal}: its colour does not follow the voltage`,
      );
    const first = series[0] ?? one;
    if (one.material.id !== first.material.id)
      throw fieldError(path, `${name} is of another material than ${first.code}`);
    if (one.contents !== first.contents)
      throw fieldError(path, `${name} was coloured in another kind of bath than ${first.code}`);
    series.push(one);
  }
  return series;
}

const isUsed = (used: readonly CalibrationCoupon[], seriesId: number, position: number) =>
  used.some((one) => one.seriesId === seriesId && one.position === position);

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

function fitOf(
  { film, substrate, angleDeg, voidFraction, surface, counted }: NewCalibration,
  from: { coupons: readonly CalibrationCoupon[]; trials: CouponSeries['trials']; series: CouponSeries },
): CalibrationFit {
  const { name, condition } = from.series.material;
  try {
    return fitFilmGrowth({
      coupons: from.coupons,
      system: { film, substrate } as FilmGrowth['system'],
      regime: {
        alloy: [name, condition].filter(Boolean).join(', '),
        preparation: surface,
        bath: from.series.contents,
        temperatureC: mean(from.trials.map(({ temperatureC }) => temperatureC)),
        holdS: mean(from.trials.map(({ timeS }) => timeS)),
      },
      angleDeg,
      voidFraction,
      highestThicknessNm: counted?.thicknessNm,
    });
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    if (error.argument === 'highestThicknessNm') throw fieldError('counted.thicknessNm', error.rule);
    const field = error.argument.replace('system.', '');
    throw fieldError(
      ['film', 'substrate', 'angleDeg', 'voidFraction'].find((one) => one === field) ??
        (field === 'system' ? 'substrate' : 'seriesIds'),
      error.sentence,
    );
  }
}

/** Nothing is coloured below this. */
const LOWEST_V = 5;

/**
 * Where one more coupon would decide the orders of a fit, no higher than the coupons went; null where none would.
 *
 * @example
 * nextVoltage(fit) // 77.5
 */
export function nextVoltage(fit: CalibrationFit): number | null {
  const { lowestVoltageV, highestVoltageV } = fit.growth;
  const range = { lowV: Math.min(LOWEST_V, lowestVoltageV), highV: highestVoltageV };
  return nextCoupon({ fit: asFit(fit), range }).voltageV;
}
