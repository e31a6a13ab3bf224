import { checkFinite, checkName } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { type ConstantSetName, constantSets } from '../constant-sets.ts';
import type { FilmModel } from '../film-model.ts';
import { flagsOfMetal } from '../metal-flags.ts';
import { modelOf } from '../model-of.ts';
import { constantSetNames } from '../resolve-index.ts';
import { resolveSystem, type System } from '../resolve-system.ts';

/** What a calibration belongs to: change any of these and it no longer holds. */
export interface GrowthRegime {
  alloy: string;
  preparation: string;
  bath: string;
  temperatureC: number;
  holdS: number;
}

/** How thick a film one shop grows at a voltage: offset + slope V + curvature V², never below zero. */
export interface FilmGrowth {
  /** The constants it was fitted with; thickness has no meaning without them. */
  system: { film: ConstantSetName; substrate: ConstantSetName };
  angleDeg: number;
  voidFraction: number;
  /** Null for a figure out of the literature. */
  regime: GrowthRegime | null;
  offsetNm: number;
  slopeNmPerV: number;
  curvatureNmPerV2: number;
  /** The lowest and highest coupon: nothing is said outside. */
  lowestVoltageV: number;
  highestVoltageV: number;
  /** Root mean square dE00 of the fit; null for a figure out of the literature. */
  residualDeltaE: number | null;
  /**
   * Of offset, slope and, where fitted, curvature; null when the coupons leave nothing to estimate it from.
   */
  uncertainty: { covariance: number[][]; degreesOfFreedom: number } | null;
}

/** Residual of a fit above which it says nothing about thickness, dE00. */
export const WRONG_ABOVE_DELTA_E = 3;

/** What every answer out of this growth law must say. */
export function growthFlags({ system, regime, residualDeltaE }: FilmGrowth): string[] {
  const missed = residualDeltaE !== null && residualDeltaE > WRONG_ABOVE_DELTA_E;
  return [
    ...flagsOfMetal(constantSets[system.substrate].material),
    ...(regime
      ? []
      : ['published ratio, no coupon of this shop behind it: voltages may be off by 20 % and more']),
    ...(missed
      ? [
          `wrong constants or surface: the growth law misses its own coupons by ${residualDeltaE.toFixed(1)} dE00`,
        ]
      : []),
  ];
}

/** Metals whose film follows the voltage; on steel and aluminium it follows charge and time. */
const BARRIER_METALS = ['Ti', 'Nb', 'Ta', 'Zr'];

/** Refuses a system whose thickness does not follow voltage. */
export function checkBarrierSystem(system: System): FilmGrowth['system'] {
  const { film, substrate } = resolveSystem(system);
  if (!BARRIER_METALS.includes(substrate.material)) {
    throw new CalcError({
      code: 'impossible',
      argument: 'system',
      given: substrate.name,
      allowed:
        'titanium, niobium, tantalum or zirconium; on steel and aluminium thickness does not follow voltage',
    });
  }
  return {
    film: checkName('system.film', film.name, constantSetNames),
    substrate: checkName('system.substrate', substrate.name, constantSetNames),
  };
}

export const thicknessOf = (growth: FilmGrowth, voltageV: number): number =>
  Math.max(0, growth.offsetNm + voltageV * (growth.slopeNmPerV + voltageV * growth.curvatureNmPerV2));

/** The film that grows, ready for any thickness. */
export function modelOfGrowth(growth: Pick<FilmGrowth, 'system' | 'angleDeg' | 'voidFraction'>): FilmModel {
  checkFinite('growth', growth);
  const { angleDeg, voidFraction } = growth;
  return modelOf({ ...resolveSystem(growth.system), angleDeg, voidFraction });
}
