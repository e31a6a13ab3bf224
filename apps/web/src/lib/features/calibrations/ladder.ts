import { type FilmGrowth, type GrowthFit, labToSrgb, thicknessFromVoltage, voltageStrip } from '@huelot/calc';
import type { CalibrationCoupon } from '@huelot/contracts';

/** A coupon on the ladder, at the thickness that its colour shows. */
export interface Rung {
  voltageV: number;
  thicknessNm: number;
  hex: string;
  order: number | null;
  deltaE: number | null;
  name: string;
  rejected: string | null;
}

const nameOf = ({ mark, series, position }: CalibrationCoupon) => mark || `${series} no. ${position}`;
const byVoltage = (one: { voltageV: number }, other: { voltageV: number }) => one.voltageV - other.voltageV;

/** Coupons by voltage, each with its order and how far it is off; one that was left out stands where the law would have it. */
export function rungsOf(fit: GrowthFit, coupons: readonly CalibrationCoupon[]): Rung[] {
  const used = coupons.filter(({ rejected }) => rejected === null).toSorted(byVoltage);
  const rungs = used.map((coupon, index): Rung => {
    const fitted = fit.coupons[index];
    return {
      ...{ voltageV: coupon.voltageV, hex: labToSrgb(coupon.lab).hex, name: nameOf(coupon), rejected: null },
      thicknessNm: fitted?.ownThicknessNm ?? 0,
      order: fitted?.order ?? null,
      deltaE: fitted?.deltaE ?? null,
    };
  });
  const left = coupons
    .filter(({ rejected }) => rejected !== null)
    .map((coupon): Rung => {
      const { voltageV, lab, rejected } = coupon;
      const { thicknessNm } = thicknessFromVoltage({ growth: fit.growth, voltageV });
      return {
        voltageV,
        thicknessNm,
        hex: labToSrgb(lab).hex,
        order: null,
        deltaE: null,
        name: nameOf(coupon),
        rejected,
      };
    });
  return [...rungs, ...left].toSorted(byVoltage);
}

const STEPS = 120;

/** The law as it is drawn: its line with the 95 % band where there is one, and its colours below. */
export function drawnLaw(growth: FilmGrowth, toV: number) {
  return voltageStrip({ growth, fromV: 0, toV, steps: STEPS }).map(({ voltageV, hex, isSupported }) => {
    const { thicknessNm, intervalNm } = thicknessFromVoltage({ growth, voltageV });
    return {
      voltageV,
      hex,
      isSupported,
      thicknessNm,
      low: intervalNm?.low ?? null,
      high: intervalNm?.high ?? null,
    };
  });
}

/** Another way to count the orders, as a line. */
export const drawnAlternative = (
  { offsetNm, slopeNmPerV, curvatureNmPerV2 }: GrowthFit['alternatives'][number],
  toV: number,
) =>
  Array.from({ length: 121 }, (_, index) => (toV * index) / 120).map((voltageV) => ({
    voltageV,
    thicknessNm: Math.max(0, offsetNm + voltageV * (slopeNmPerV + voltageV * curvatureNmPerV2)),
  }));

/**
 * The orders of coupons in words, by voltage.
 *
 * @example
 * ordersInWords([1, 1, 2], [10, 30, 60]) // '1 to 30 V, 2 from 60 V'
 */
export function ordersInWords(orders: readonly number[], voltagesV: readonly number[]): string {
  const starts = orders.flatMap((order, index) => (order === orders[index - 1] ? [] : [index]));
  return starts
    .map((start, place) => {
      const next = starts[place + 1];
      const order = orders[start] ?? '';
      return next === undefined
        ? `${order}${place === 0 ? ' throughout' : ` from ${voltagesV[start] ?? ''} V`}`
        : `${order} to ${voltagesV[next - 1] ?? ''} V`;
    })
    .join(', ');
}
