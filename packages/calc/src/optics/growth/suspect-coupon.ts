import { ciede2000 } from '../../colour/delta-e.ts';
import { colourAtVoltage } from './voltage-strip.ts';
import { type Coupon, readCoupons } from './coupon.ts';
import { fitFilmGrowth, type GrowthFit } from './fit-film-growth.ts';

export interface SuspectCoupon {
  /** Its place among the coupons, from 0. */
  index: number;
  voltageV: number;
  /** dE00 from the law that the others give. */
  deltaE: number;
  /** Root mean square dE00 of all coupons, and of the others among themselves. */
  residualDeltaE: number;
  residualWithout: number;
}

/** With fewer, the law of the others says too little about the one left out. */
const FEWEST_COUPONS = 6;
/** Below this no coupon is suspected: a careful shop repeats no better (common practice, no source). */
const LEAST_DELTA_E = 4;
/** How many times the residual of the others a coupon must lie off. */
const TIMES_RESIDUAL = 4;

/**
 * The one coupon of a series that does not belong to it, if there is one: each is left out in turn, and held against the
 * law that the others give. Suspected is the one without which the residual falls most, where it lies 4 dE00 and four
 * residuals of the others off. Nothing is rejected by this: somebody looks at the coupon, and says why.
 *
 * Input as for {@link fitFilmGrowth}; with fewer than 6 coupons the answer is null, and so it is where the others agree no
 * better without it. Ask again without the suspect to find a second.
 * Source: deleted residuals, R. D. Cook and S. Weisberg, Residuals and Influence in Regression (1982), section 2.2 (from
 * memory); the two limits are common practice, no source. Errors: as fitFilmGrowth.
 *
 * @example
 * const coupons = [10, 20, 30, 40, 50, 60, 70].map((voltageV) => ({
 *   voltageV,
 *   lab: filmColour({ system: 'titanium', thicknessNm: (voltageV === 40 ? 20 : 3) + 2.1 * voltageV }).lab,
 * }));
 * const regime = { alloy: 'Ti grade 2', preparation: 'polished', bath: 'TSP 50 g/L', temperatureC: 22, holdS: 30 };
 * suspectCoupon({ coupons, system: 'titanium', regime }) // { index: 3, voltageV: 40 }
 */
export function suspectCoupon(input: Parameters<typeof fitFilmGrowth>[0]): SuspectCoupon | null {
  const all = fitFilmGrowth(input);
  if (input.coupons.length < FEWEST_COUPONS) return null;
  const [worst] = input.coupons
    .map((coupon, index) => withoutOne(input, { coupon, index }))
    .filter((one) => one !== null)
    .toSorted((one, other) => one.fit.residualDeltaE - other.fit.residualDeltaE);
  if (worst === undefined) return null;
  const { fit, ...found } = worst;
  const isOff =
    found.deltaE >= LEAST_DELTA_E && found.deltaE >= TIMES_RESIDUAL * Math.max(fit.residualDeltaE, 0.5);
  return isOff ? { ...found, residualDeltaE: all.residualDeltaE, residualWithout: fit.residualDeltaE } : null;
}

function withoutOne(
  input: Parameters<typeof fitFilmGrowth>[0],
  { coupon, index }: { coupon: Coupon; index: number },
): (Pick<SuspectCoupon, 'index' | 'voltageV' | 'deltaE'> & { fit: GrowthFit }) | null {
  const coupons = input.coupons.filter((_, place) => place !== index);
  const [read] = readCoupons([coupon]);
  if (read === undefined || new Set(coupons.map(({ voltageV }) => voltageV)).size < 3) return null;
  const fit = fitFilmGrowth({ ...input, coupons });
  const { lab } = colourAtVoltage({ growth: fit.growth, voltageV: read.voltageV });
  return { index, voltageV: read.voltageV, deltaE: ciede2000(read.lab, lab), fit };
}
