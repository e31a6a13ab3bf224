import { CalcError, type ConstantSetName, constantSets, fitFilmGrowth, type GrowthFit } from '@huelot/calc';
import {
  type Calibration,
  calibratedMetals,
  type CalibratedMetal,
  type CalibrationCoupon,
  calibrationCoupons,
  type CouponSeries,
  type NewCalibration,
} from '@huelot/contracts';

/** A calibration as it is typed. */
export interface CalibrationValues extends Omit<NewCalibration, 'angleDeg' | 'voidFraction' | 'counted'> {
  angleDeg: number | null;
  voidFraction: number | null;
  counted: { thicknessNm: number | null; reason: string } | null;
}

export const emptyCalibration: CalibrationValues = {
  ...{ code: '', name: '', film: '', substrate: '', angleDeg: 0, voidFraction: 0, surface: '' },
  ...{ notes: '', changeNote: '', seriesIds: [], rejected: [], counted: null },
};

export const valuesOf = (one: Calibration): CalibrationValues => {
  const { code, name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote } = one;
  const rejected = one.coupons.flatMap(({ seriesId, position, rejected: reason }) =>
    reason === null ? [] : [{ seriesId, position, reason }],
  );
  const facts = { code, name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote };
  return { ...facts, seriesIds: [...one.seriesIds], rejected, counted: one.counted && { ...one.counted } };
};

/** As it is sent: a figure left out is refused by the server, at its field. */
export const bodyOf = (values: CalibrationValues) => values as NewCalibration;

const sets = Object.values(constantSets);
/** Sets of optical constants, of the oxide and of the metal, that describe a metal; the usual ones first. */
export function constantsFor(metal: CalibratedMetal): { films: string[]; substrates: string[] } {
  const { film, substrate } = usual[metal];
  const like = (name: ConstantSetName) =>
    [
      name,
      ...sets.filter(({ material }) => material === constantSets[name].material).map((set) => set.name),
    ].filter((one, index, all) => all.indexOf(one) === index);
  return { films: like(film), substrates: like(substrate) };
}
const usual = {
  titanium: { film: 'TiO2_Franta2015', substrate: 'Ti_Johnson1974' },
  niobium: { film: 'Nb2O5_Lemarchand2013', substrate: 'Nb_Weaver1973' },
  tantalum: { film: 'Ta2O5_Gao2012', substrate: 'Ta_Weaver1974' },
  zirconium: { film: 'ZrO2_Synowicki2004', substrate: 'Zr_Querry1987' },
} as const satisfies Record<CalibratedMetal, { film: ConstantSetName; substrate: ConstantSetName }>;

export const metalOf = (series: { material: { baseMetal: string } } | undefined): CalibratedMetal | null =>
  calibratedMetals.find((metal) => metal === series?.material.baseMetal) ?? null;

/** What the chosen series give, as it would be saved: their coupons, and the law or what keeps them from one. */
export function previewOf(
  values: CalibrationValues,
  series: readonly CouponSeries[],
): { coupons: CalibrationCoupon[]; fit: GrowthFit | string } {
  const coupons = series.flatMap((one) => calibrationCoupons(one, values.rejected));
  return { coupons, fit: fitOf(values, coupons) };
}

/** What is handed to calc: the coupons that count, with the constants. */
export const askedOf = (values: CalibrationValues, coupons: readonly CalibrationCoupon[]) => ({
  coupons: coupons.filter(({ rejected }) => rejected === null),
  system: { film: values.film, substrate: values.substrate } as {
    film: ConstantSetName;
    substrate: ConstantSetName;
  },
  // A law does not depend on what it is said of.
  regime: { alloy: '', preparation: values.surface, bath: '', temperatureC: 20, holdS: 60 },
  angleDeg: values.angleDeg ?? 0,
  voidFraction: values.voidFraction ?? 0,
  highestThicknessNm: values.counted?.thicknessNm ?? undefined,
});

function fitOf(values: CalibrationValues, coupons: readonly CalibrationCoupon[]): GrowthFit | string {
  try {
    return fitFilmGrowth(askedOf(values, coupons));
  } catch (error) {
    if (error instanceof CalcError) return error.sentence;
    throw error;
  }
}
