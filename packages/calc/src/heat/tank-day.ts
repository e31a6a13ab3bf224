import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { density } from '../bath/density.ts';
import { checkFraction, checkTemperature } from '../bath/inputs.ts';
import { checkSolute, type Solute } from '../bath/solutes.ts';
import { checkRoom, type RoomAir } from './evaporation.ts';
import { heatCapacity } from './heat-capacity.ts';
import { bodyJPerK, type SolidBody } from './solids.ts';

/** A stretch of the day in which the tank is used in one way. */
export interface TankPeriod {
  hours: number;
  /** Null: heater and cooler are off. */
  targetC: number | null;
  /** Share of the surface losses that a cover holds back, default 0. */
  coverShare?: number;
  /** Air over the surface, m/s, default 0.25. */
  draughtMPerS?: number;
  /** All work and racks that go through in this period, spread evenly over it; they enter at the room's temperature. */
  loads?: readonly (SolidBody & { enterC?: number })[];
  /**
   * Mean current and cell voltage. `reactionVolts` is what of the voltage leaves as chemical energy: 1.48 times
   * the share of the current that makes gas, -1.41 for aluminium; default 0, an upper bound for gassing cells.
   */
  current?: { amps: number; cellVolts: number; reactionVolts?: number };
}

export interface TankDay {
  bath: { solute: Solute; massFraction: number; volumeL: number };
  surfaceAreaM2: number;
  walls: { areaM2: number; transmittanceWPerM2K: number };
  shell?: readonly SolidBody[];
  room: RoomAir;
  /** Of the bath at the beginning of the first period. */
  startC: number;
  /** Of the water that makes up for evaporation, default the room's. */
  makeUpWaterC?: number;
  /** Installed; left out, each is taken as large as the day needs. */
  heaterKw?: number;
  coolerKw?: number;
  /** Together 24 hours. */
  periods: readonly TankPeriod[];
}

export interface CheckedPeriod {
  seconds: number;
  targetC: number | null;
  coverShare: number;
  draughtMPerS: number | undefined;
  /** Watts that the loads take per kelvin, and that they bring in through their own temperature. */
  loadsWPerK: number;
  loadsBroughtW: number;
  jouleW: number;
}

export interface CheckedDay {
  solute: Solute;
  massFraction: number;
  surfaceAreaM2: number;
  walls: { areaM2: number; transmittanceWPerM2K: number };
  room: RoomAir;
  startC: number;
  makeUpWaterC: number;
  heaterW: number | null;
  coolerW: number | null;
  /** Of liquid and shell, taken half-way between the coldest and the warmest of start and targets. */
  capacityJPerK: number;
  periods: CheckedPeriod[];
  flags: string[];
}

export function checkDay(input: TankDay): CheckedDay {
  const solute = checkSolute(input.bath.solute);
  const massFraction = checkFraction('bath.massFraction', input.bath.massFraction);
  const volumeL = checkNumber('bath.volumeL', input.bath.volumeL, { above: 0, max: 1e6 });
  const room = checkRoom(input.room);
  const startC = checkNumber('startC', input.startC, { min: -20, max: 110 });
  const periods = input.periods.map((period) => checkPeriod(period, room));
  const hours = periods.reduce((sum, period) => sum + period.seconds, 0) / 3600;
  if (Math.abs(hours - 24) > 1e-6) {
    throw new CalcError({
      code: 'impossible',
      argument: 'periods',
      given: `${hours} hours in all`,
      allowed: 'periods that sum to 24 hours',
    });
  }
  const levels = [startC, ...periods.flatMap(({ targetC }) => (targetC === null ? [] : [targetC]))];
  const halfWayC = (Math.min(...levels) + Math.max(...levels)) / 2;
  const liquid = density({ solute, massFraction, temperatureC: startC });
  const capacity = heatCapacity({ solute, massFraction, temperatureC: halfWayC });
  const shellJPerK = (input.shell ?? []).reduce((sum, body) => sum + bodyJPerK('shell', body), 0);
  return {
    solute,
    massFraction,
    room,
    startC,
    periods,
    surfaceAreaM2: checkNumber('surfaceAreaM2', input.surfaceAreaM2, { min: 0, max: 1000 }),
    walls: {
      areaM2: checkNumber('walls.areaM2', input.walls.areaM2, { min: 0, max: 1000 }),
      transmittanceWPerM2K: checkNumber('walls.transmittanceWPerM2K', input.walls.transmittanceWPerM2K, {
        min: 0,
        max: 50,
      }),
    },
    makeUpWaterC: checkTemperature('makeUpWaterC', input.makeUpWaterC ?? room.temperatureC),
    heaterW: installed('heaterKw', input.heaterKw),
    coolerW: installed('coolerKw', input.coolerKw),
    capacityJPerK: ((volumeL * liquid.kgPerM3) / 1000) * capacity.jPerKgK + shellJPerK,
    flags: [...liquid.flags, ...capacity.flags],
  };
}

const installed = (argument: string, kw: number | undefined): number | null =>
  kw === undefined ? null : 1000 * checkNumber(argument, kw, { min: 0, max: 1e4 });

function checkPeriod(input: TankPeriod, room: RoomAir): CheckedPeriod {
  const seconds = 3600 * checkNumber('periods.hours', input.hours, { above: 0, max: 24 });
  const loads = (input.loads ?? []).map((load) => ({
    wPerK: bodyJPerK('periods.loads', load) / seconds,
    enterC: checkTemperature('periods.loads.enterC', load.enterC ?? room.temperatureC),
  }));
  return {
    seconds,
    targetC:
      input.targetC === null ? null : checkNumber('periods.targetC', input.targetC, { min: -5, max: 110 }),
    coverShare: checkFraction('periods.coverShare', input.coverShare ?? 0),
    draughtMPerS: input.draughtMPerS,
    loadsWPerK: loads.reduce((sum, load) => sum + load.wPerK, 0),
    loadsBroughtW: loads.reduce((sum, load) => sum + load.wPerK * load.enterC, 0),
    jouleW: jouleHeat(input.current),
  };
}

function jouleHeat(current: TankPeriod['current']): number {
  if (!current) return 0;
  const amps = checkNumber('periods.current.amps', current.amps, { min: 0, max: 1e5 });
  const volts = checkNumber('periods.current.cellVolts', current.cellVolts, { min: 0, max: 1000 });
  const reaction = checkNumber('periods.current.reactionVolts', current.reactionVolts ?? 0, {
    min: -5,
    max: volts,
  });
  return amps * (volts - reaction);
}
