import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { checkLab } from '../../colour/lab.ts';
import { checkFinite, checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { voltageColours } from './colour-dips.ts';
import type { FilmGrowth } from './growth.ts';

export interface DriftPoint {
  /** From the colour that the law gives at this voltage; null outside of what the law rests on. */
  deltaE: number | null;
  /** The cumulative sum after this point. */
  sum: number;
}

export interface LawDrift {
  points: DriftPoint[];
  /** dE00: what readings scatter about the law, what each may lie off unpunished, and the sum at which the law is over. */
  limits: { noise: number; allowance: number; decision: number; mostOfOne: number };
  /** The place, from 0, of the first point whose sum is above the decision; null while the law holds. */
  expiredAt: number | null;
}

/** Readings of work that is alike differ by this much, however well the coupons agreed (common practice, no source). */
const LEAST_NOISE_DELTA_E = 1;
const ALLOWANCE = 1.5;
const DECISION = 3;
/** What one reading may add, as a share of the decision: no single one ends a law. */
const MOST_OF_ONE = 0.75;

/**
 * Whether a growth law still holds: colours measured after it was made, in the order of time, each as its dE00 from the law
 * at its voltage, summed up as far as they exceed the allowance. The law is over when the sum passes the decision interval,
 * and stays over.
 *
 * `growth` from `fitFilmGrowth`; `points` with a voltage from 0 to 1000 and CIELAB under the conditions of the coupons.
 * With the residual of the fit as noise, 1 dE00 at least, the allowance is 1.5 and the decision 3 of it, and one point adds
 * at most three quarters of the decision: it takes two. Points outside the coupons of the law are shown without a figure.
 * Source: one-sided tabular cumulative sum, E. S. Page, Biometrika 41, 100 (1954); the limit on single points after
 * J. M. Lucas and R. B. Crosier, Technometrics 24, 287 (1982) (both from memory).
 * Errors: `impossible` for a law without coupons; `not-finite`, `out-of-range`.
 *
 * @example
 * const growth = { ...nominalGrowth({ system: 'titanium' }), residualDeltaE: 0.8, regime: { alloy: 'a', preparation: 'b', bath: 'c', temperatureC: 20, holdS: 60 } };
 * const off = filmColour({ system: 'titanium', thicknessNm: 64 }).lab;
 * lawDrift({ growth, points: [1, 2, 3].map(() => ({ voltageV: 25, lab: off })) })
 * // { limits: { noise: 1, allowance: 1.5, decision: 3 }, expiredAt: 1 }
 */
export function lawDrift(input: {
  growth: FilmGrowth;
  points: readonly { voltageV: number; lab: Lab }[];
}): LawDrift {
  const { growth } = input;
  checkFinite('growth', growth);
  if (growth.residualDeltaE === null)
    throw new CalcError({
      code: 'impossible',
      argument: 'growth',
      given: 'a law out of the literature',
      allowed: 'a law fitted to coupons',
    });
  const noise = Math.max(LEAST_NOISE_DELTA_E, growth.residualDeltaE);
  const [allowance, decision] = [ALLOWANCE * noise, DECISION * noise];
  const limits = { noise, allowance, decision, mostOfOne: MOST_OF_ONE * decision };
  const { lowV, highV, labAt } = voltageColours(growth);
  let sum = 0;
  const points = input.points.map(({ voltageV, lab }, index): DriftPoint => {
    checkNumber(`points[${index}].voltageV`, voltageV, { min: 0, max: 1000 });
    const read = checkLab(`points[${index}].lab`, lab);
    if (voltageV < lowV || voltageV > highV) return { deltaE: null, sum };
    const deltaE = ciede2000(read, labAt(voltageV));
    sum = Math.max(0, sum + Math.min(deltaE - allowance, limits.mostOfOne));
    return { deltaE, sum };
  });
  const first = points.findIndex((point) => point.sum > decision);
  return { points, limits, expiredAt: first < 0 ? null : first };
}
