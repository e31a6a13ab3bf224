import {
  CalcError,
  type ConstantSetName,
  constantSets,
  type Coupon,
  type FilmGrowth,
  fitFilmGrowth,
  type GrowthFit,
  nominalGrowth,
} from '@huelot/calc';
import type { Calibration, CouponSeries, Lab } from '@huelot/contracts';

/** Metals whose colour follows the voltage. */
export const strippedMetals = ['titanium', 'niobium', 'tantalum', 'zirconium'] as const;
export type StripMetal = (typeof strippedMetals)[number];

/** A growth law with what it rests on. */
export interface GrowthLaw {
  growth: FilmGrowth;
  /** Null for figures out of the literature. */
  fit: GrowthFit | null;
  /** Measured coupons, drawn on the strip. */
  coupons: readonly (Coupon & { lab: Lab; mark: string })[];
  /** The approved record it is out of. */
  calibration: Calibration | null;
}

/** The coupons of a series whose colour was measured and whose voltage is known. */
export const measuredCoupons = (series: CouponSeries): GrowthLaw['coupons'] =>
  series.trials.flatMap(({ lab, voltageV, mark }) =>
    lab === null || voltageV === null ? [] : [{ voltageV, lab, mark }],
  );

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * The law that a series gives, or what keeps it from giving one, in words.
 *
 * @example
 * fittedLaw('titanium', series) // { growth, fit, coupons }, or 'coupons must be at least 3 different voltages'
 */
export function fittedLaw(metal: StripMetal, series: CouponSeries): GrowthLaw | string {
  const coupons = measuredCoupons(series);
  try {
    const fit = fitFilmGrowth({
      coupons,
      system: metal,
      regime: {
        alloy: [series.material.name, series.material.condition].filter(Boolean).join(', '),
        preparation: series.preparation || 'as received',
        bath: series.contents,
        temperatureC: mean(series.trials.flatMap(({ temperatureC }) => temperatureC ?? [])),
        holdS: mean(series.trials.map(({ timeS }) => timeS)),
      },
    });
    return { growth: fit.growth, fit, coupons, calibration: null };
  } catch (error) {
    if (error instanceof CalcError) return error.sentence;
    throw error;
  }
}

/** The law out of the literature, to look at while a shop has no coupons. */
export const nominalLaw = (metal: StripMetal): GrowthLaw => ({
  growth: nominalGrowth({ system: metal }),
  fit: null,
  coupons: [],
  calibration: null,
});

/**
 * The law of a calibration, with the coupons it rests on. That its constants are known was checked when it was fitted.
 */
export function calibratedLaw(calibration: Calibration): GrowthLaw {
  const fit = calibration.fit as GrowthFit;
  const coupons = calibration.coupons.filter(({ rejected }) => rejected === null);
  return { growth: fit.growth, fit, coupons, calibration };
}

/**
 * The same law with other published constants of the film: how far theory can be trusted.
 *
 * @example
 * alternateLaws(nominalGrowth({ system: 'niobium' })).map(({ name }) => name) // ['Nb2O5_Franta2024']
 */
export function alternateLaws(growth: FilmGrowth): { name: string; source: string; growth: FilmGrowth }[] {
  const { film, substrate } = growth.system;
  const { material } = constantSets[film];
  return (Object.keys(constantSets) as ConstantSetName[])
    .filter((name) => constantSets[name].material === material && name !== film)
    .map((name) => ({
      ...{ name, source: constantSets[name].source },
      growth: { ...growth, system: { film: name, substrate } },
    }));
}
