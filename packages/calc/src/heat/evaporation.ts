import { checkNumber } from '../check.ts';
import { checkFraction, checkTemperature } from '../bath/inputs.ts';
import { checkSolute, isCaustic, type Solute } from '../bath/solutes.ts';
import { evaporationForm } from './data/transfer.ts';
import { waterActivity } from './water-activity.ts';

export interface EvaporationInput {
  solute: Solute;
  massFraction: number;
  /** Of the liquid's surface. */
  temperatureC: number;
  room: RoomAir;
  /** Air over the surface, m/s; default 0.25, which stands for still air in a shop; 0.5 to 1 with lip exhaust. */
  draughtMPerS?: number;
}

export interface RoomAir {
  temperatureC: number;
  /** 0 to 1. */
  relativeHumidity: number;
}

/** Saturation pressure of water, kPa, by Buck's form. */
export const saturationKPa = (t: number): number =>
  0.61121 * Math.exp(((18.678 - t / 234.5) * t) / (257.14 + t));

/** Heat of vaporisation of water, kJ/kg. */
export const vaporisationKJPerKg = (t: number): number => 2501 - 2.376 * t;

/**
 * Water leaving an open bath and the heat it takes along. Strong caustic holds its water: 50 wt% KOH at 60 °C
 * loses an eighth of what water would. Negative when the bath draws water from the air, as cold strong caustic
 * does.
 *
 * Valid for temperatureC -20 to 110, room -20 to 60 °C, relative humidity 0 to 1, draught 0 to 5 m/s. Flags: below
 * 50 °C it reads high (13 % at 43, 70 % at 32 °C); solutes other than KOH and NaOH are taken for water, which
 * reads high too; flagged as {@link waterActivity}.
 * Source: q = (0.089 + 0.0782 v)(a_w p_s(t) - RH p_s(t_air)) kW/m2, p in kPa; checked against a published table of
 * open water tanks.
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * evaporationRate({
 *   solute: 'KOH',
 *   massFraction: 0.5,
 *   temperatureC: 60,
 *   room: { temperatureC: 20, relativeHumidity: 0.5 },
 * })
 * // { wattsPerM2: 253.717, kgPerM2H: 0.387282, waterActivity: 0.175807 }
 */
export function evaporationRate(input: EvaporationInput): {
  kgPerM2H: number;
  wattsPerM2: number;
  waterActivity: number;
  flags: string[];
} {
  const solute = checkSolute(input.solute);
  const massFraction = checkFraction('massFraction', input.massFraction);
  const temperatureC = checkNumber('temperatureC', checkTemperature('temperatureC', input.temperatureC), {
    max: 110,
  });
  const room = checkRoom(input.room);
  const draught = checkNumber('draughtMPerS', input.draughtMPerS ?? evaporationForm.defaultDraughtMPerS, {
    min: 0,
    max: 5,
  });
  const activity = isCaustic(solute)
    ? waterActivity({ solute, massFraction, temperatureC })
    : {
        waterActivity: 1,
        flags: massFraction > 0 ? [`water over ${solute} taken for pure water: reads high`] : [],
      };
  const overBath = activity.waterActivity * saturationKPa(temperatureC);
  const inRoom = room.relativeHumidity * saturationKPa(room.temperatureC);
  const { still, perMetrePerSecond } = evaporationForm;
  const kilowattsPerM2 = (still + perMetrePerSecond * draught) * (overBath - inRoom);
  const flags = [...activity.flags];
  if (temperatureC < 50 && kilowattsPerM2 > 0) flags.push('evaporation below 50 °C reads high');
  if (kilowattsPerM2 < 0)
    flags.push('the bath draws water from the air: its level rises and its strength falls');
  return {
    kgPerM2H: (3600 * kilowattsPerM2) / vaporisationKJPerKg(temperatureC),
    wattsPerM2: 1000 * kilowattsPerM2,
    waterActivity: activity.waterActivity,
    flags,
  };
}

export const checkRoom = ({ temperatureC, relativeHumidity }: RoomAir): RoomAir => ({
  temperatureC: checkNumber('room.temperatureC', temperatureC, { min: -20, max: 60 }),
  relativeHumidity: checkFraction('room.relativeHumidity', relativeHumidity),
});
