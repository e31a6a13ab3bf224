import { checkNumber } from '../check.ts';
import { FARADAY_C_PER_MOL, GAS_L_PER_MOL, S_PER_H } from './constants.ts';

const HYDROGEN_G_PER_MOL = 2.016;
const WATER_G_PER_MOL = 18.015;
/** A quarter of the lower explosive limit of hydrogen in air, 4 % by volume. */
const SAFE_SHARE = 0.01;

export interface GasEvolution {
  /** At 25 °C and 101.325 kPa, as oxygen too. */
  hydrogenM3PerH: number;
  hydrogenGPerH: number;
  oxygenM3PerH: number;
  /** Split, and so lost from the bath. */
  waterGPerH: number;
  /** Fresh air that keeps the hydrogen at 1 % by volume when mixed at once: the least, mist capture apart. */
  airM3PerH: number;
}

/**
 * Hydrogen, oxygen and water split by a current. `gasShare` is the share of the current that splits water; leave it out
 * (1) wherever ventilation is meant, so that the figure is on the safe side.
 *
 * Hydrogen collects under covers and hoods and burns at a spark. The figures size nothing by themselves: the safety data
 * sheet, local codes and the licensed person decide on ventilation.
 *
 * Units: A (0 or more), m3/h at 25 °C and 101.325 kPa, g/h. Source: Faraday's law, ideal gas; lower explosive limit of
 * hydrogen 4 vol%. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * gasEvolution({ currentA: 300 })
 * // { hydrogenM3PerH: 0.136926, hydrogenGPerH: 11.283, oxygenM3PerH: 0.0684628, waterGPerH: 100.825, airM3PerH: 13.6926 }
 */
export function gasEvolution(input: { currentA: number; gasShare?: number | undefined }): GasEvolution {
  const currentA = checkNumber('currentA', input.currentA, { min: 0 });
  const gasShare = checkNumber('gasShare', input.gasShare ?? 1, { min: 0, max: 1 });
  const molesPerH = (gasShare * currentA * S_PER_H) / (2 * FARADAY_C_PER_MOL);
  const hydrogenM3PerH = (molesPerH * GAS_L_PER_MOL) / 1000;
  return {
    hydrogenM3PerH,
    hydrogenGPerH: molesPerH * HYDROGEN_G_PER_MOL,
    oxygenM3PerH: hydrogenM3PerH / 2,
    waterGPerH: molesPerH * WATER_G_PER_MOL,
    airM3PerH: hydrogenM3PerH / SAFE_SHARE,
  };
}
