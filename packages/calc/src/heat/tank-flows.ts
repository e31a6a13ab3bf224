import { openSurfaceLoss, wallLoss } from './losses.ts';
import type { CheckedDay, CheckedPeriod } from './tank-day.ts';

/** Watts at one moment; the last in kg/s. */
export interface TankFlows {
  evaporation: number;
  radiationAndConvection: number;
  walls: number;
  loads: number;
  makeUpWater: number;
  joule: number;
  evaporatedKg: number;
}

/** Water's heat capacity near room temperature, J/(kg K). */
const makeUpJPerKgK = 4186;

export function flowsAt(at: {
  day: CheckedDay;
  period: CheckedPeriod;
  temperatureC: number;
  flags: Set<string>;
}): TankFlows {
  const { day, period, temperatureC } = at;
  const surface = openSurfaceLoss({
    areaM2: day.surfaceAreaM2,
    coverShare: period.coverShare,
    solute: day.solute,
    massFraction: day.massFraction,
    temperatureC,
    room: day.room,
    ...(period.draughtMPerS === undefined ? {} : { draughtMPerS: period.draughtMPerS }),
  });
  for (const flag of surface.flags) at.flags.add(flag);
  const evaporatedKg = surface.evaporationKgPerH / 3600;
  return {
    evaporation: surface.evaporationW,
    radiationAndConvection: surface.radiationW + surface.convectionW,
    walls: wallLoss({ ...day.walls, temperatureC, roomTemperatureC: day.room.temperatureC }).watts,
    loads: period.loadsWPerK * temperatureC - period.loadsBroughtW,
    makeUpWater: Math.max(0, evaporatedKg) * makeUpJPerKgK * (temperatureC - day.makeUpWaterC),
    joule: period.jouleW,
    evaporatedKg,
  };
}

export const netW = (flows: TankFlows): number =>
  flows.joule -
  flows.evaporation -
  flows.radiationAndConvection -
  flows.walls -
  flows.loads -
  flows.makeUpWater;

/** To hold the target, and to get there from below by the end of the period with the losses of the target (safe side). */
export function sizeFor(at: { day: CheckedDay; period: CheckedPeriod; fromC: number }): {
  heaterW: number;
  coolerW: number;
} {
  const { day, period, fromC } = at;
  if (period.targetC === null) return { heaterW: 0, coolerW: 0 };
  const net = netW(flowsAt({ day, period, temperatureC: period.targetC, flags: new Set() }));
  const climbW = (day.capacityJPerK * Math.max(0, period.targetC - fromC)) / period.seconds;
  return { heaterW: Math.max(0, climbW - net), coolerW: Math.max(0, net) };
}
