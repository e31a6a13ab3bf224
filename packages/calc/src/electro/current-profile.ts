import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { S_PER_H } from './constants.ts';
import { fallingCurrent } from './falling-current.ts';

export interface CurrentProfile {
  /** At the start: what the supply must give. */
  peakCurrentA: number;
  meanCurrentA: number;
  /** When the step ends. */
  finalCurrentA: number;
  meanCurrentDensityAPerM2: number;
  chargeC: number;
  chargeCPerM2: number;
  /** Direct-current energy, before the losses of the supply. */
  energyKwh: number;
}

/**
 * Current, charge and energy of a step at constant voltage whose current falls from a peak towards a steady value:
 * j(t) = steady + (peak - steady) exp(-t/time constant). Equal peak and steady values are a step at constant current.
 *
 * Units: A/m2, s, m2 of area that draws current (rack included), V. Ranges: densities 0 or more, peak not below steady,
 * the rest more than zero. Source: the integral of the expression; the exponential is a common description of film growth
 * with leakage, to be fitted to one's own records. Errors: `not-finite`, `out-of-range`, `impossible` for a peak below the
 * steady value.
 *
 * @example
 * currentProfile({ peakAPerM2: 200, steadyAPerM2: 5, timeConstantS: 12, durationS: 180, areaM2: 0.168, voltageV: 28 })
 * // { peakCurrentA: 33.6, meanCurrentA: 3.024, finalCurrentA: 0.84001, chargeCPerM2: 3240, energyKwh: 0.0042336 }
 */
export function currentProfile(input: {
  peakAPerM2: number;
  steadyAPerM2: number;
  timeConstantS: number;
  durationS: number;
  areaM2: number;
  voltageV: number;
}): CurrentProfile {
  const peak = checkNumber('peakAPerM2', input.peakAPerM2, { min: 0 });
  const steady = checkNumber('steadyAPerM2', input.steadyAPerM2, { min: 0 });
  const timeConstantS = checkNumber('timeConstantS', input.timeConstantS, { above: 0 });
  const durationS = checkNumber('durationS', input.durationS, { above: 0 });
  const areaM2 = checkNumber('areaM2', input.areaM2, { above: 0 });
  const voltageV = checkNumber('voltageV', input.voltageV, { min: 0 });
  if (peak < steady) {
    const allowed = `at least the steady value of ${steady}`;
    throw new CalcError({ code: 'impossible', argument: 'peakAPerM2', given: peak, allowed });
  }
  const { currentDensityAPerM2: finalAPerM2, chargeCPerM2 } = fallingCurrent({
    peakAPerM2: peak,
    steadyAPerM2: steady,
    timeConstantS,
    afterS: durationS,
  });
  const chargeC = chargeCPerM2 * areaM2;
  return {
    peakCurrentA: peak * areaM2,
    meanCurrentA: chargeC / durationS,
    finalCurrentA: finalAPerM2 * areaM2,
    meanCurrentDensityAPerM2: chargeCPerM2 / durationS,
    chargeC,
    chargeCPerM2,
    energyKwh: (chargeC * voltageV) / (1000 * S_PER_H),
  };
}
