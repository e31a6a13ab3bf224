import { checkNumber } from '../check.ts';
import { checkFraction, checkTemperature } from '../bath/inputs.ts';
import { stefanBoltzmann, surfaceForm } from './data/transfer.ts';
import { evaporationRate, type EvaporationInput, type RoomAir } from './evaporation.ts';

export interface OpenSurfaceLoss {
  evaporationW: number;
  radiationW: number;
  convectionW: number;
  totalW: number;
  evaporationKgPerH: number;
  flags: string[];
}

/**
 * Heat that an open bath surface loses by evaporation, radiation and convection, and the water that goes with it.
 *
 * `coverShare` (0 to 1, default 0) is the share that a cover holds back: see {@link coverEffectiveness}. Area from
 * 0 to 1000 m2; otherwise valid and flagged as {@link evaporationRate}.
 * Source: evaporation as there; radiation 0.95 sigma (T^4 - T_room^4); convection 1.52 dT^(4/3) W/m2, reversed
 * when the room is warmer.
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * openSurfaceLoss({
 *   areaM2: 1,
 *   solute: 'KOH',
 *   massFraction: 0.5,
 *   temperatureC: 60,
 *   room: { temperatureC: 20, relativeHumidity: 0.5 },
 * })
 * // { evaporationW: 253.717, totalW: 727.404 }
 */
export function openSurfaceLoss(
  input: EvaporationInput & { areaM2: number; coverShare?: number },
): OpenSurfaceLoss {
  const areaM2 = checkNumber('areaM2', input.areaM2, { min: 0, max: 1000 });
  const openM2 = areaM2 * (1 - checkFraction('coverShare', input.coverShare ?? 0));
  const { wattsPerM2, kgPerM2H, flags } = evaporationRate(input);
  const between = input.temperatureC - input.room.temperatureC;
  const evaporationW = openM2 * wattsPerM2;
  const radiationW = openM2 * radiationWPerM2(input.temperatureC, input.room);
  const convectionW = openM2 * surfaceForm.convection * Math.cbrt(Math.abs(between)) * between;
  return {
    evaporationW,
    radiationW,
    convectionW,
    totalW: evaporationW + radiationW + convectionW,
    evaporationKgPerH: openM2 * kgPerM2H,
    flags,
  };
}

const radiationWPerM2 = (temperatureC: number, room: RoomAir): number =>
  surfaceForm.emissivity *
  stefanBoltzmann *
  ((temperatureC + 273.15) ** 4 - (room.temperatureC + 273.15) ** 4);

/**
 * Heat through the walls and bottom of a tank, negative when the room is warmer.
 *
 * `transmittanceWPerM2K` (0 to 50) counts per kelvin between liquid and room: see {@link wallTransmittance}. Area
 * 0 to 1000 m2, temperatures -20 to 200 °C. One figure for all temperatures is 17 % high at 32 °C and 16 % low at
 * 99 °C for a bare wall.
 * Source: q = U A dT; U derived from a published table of open tanks.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * wallLoss({ areaM2: 4.645152, transmittanceWPerM2K: 11.4, temperatureC: 65.56, roomTemperatureC: 15.56 }) // { watts: 2647.74 }
 */
export function wallLoss(input: {
  areaM2: number;
  transmittanceWPerM2K: number;
  temperatureC: number;
  roomTemperatureC: number;
}): { watts: number } {
  const areaM2 = checkNumber('areaM2', input.areaM2, { min: 0, max: 1000 });
  const u = checkNumber('transmittanceWPerM2K', input.transmittanceWPerM2K, { min: 0, max: 50 });
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const roomTemperatureC = checkTemperature('roomTemperatureC', input.roomTemperatureC);
  return { watts: u * areaM2 * (temperatureC - roomTemperatureC) };
}
