import { type CheckedPeriod, checkDay, type TankDay } from './tank-day.ts';
import { flowsAt, netW, sizeFor } from './tank-flows.ts';

export interface TankHeatBalance {
  /** Energies of the day. Those in: heater and joule; those out: cooler and the losses; the rest is stored. */
  heaterKWh: number;
  coolerKWh: number;
  jouleKWh: number;
  evaporationKWh: number;
  radiationAndConvectionKWh: number;
  wallsKWh: number;
  loadsKWh: number;
  makeUpWaterKWh: number;
  storedKWh: number;
  /** Net; negative when the bath drew water from the air. */
  waterEvaporatedKg: number;
  /** What the hardest period asks for. */
  heaterNeededKw: number;
  coolerNeededKw: number;
  endC: number;
  /** At the end of each hour. */
  hourly: { hour: number; temperatureC: number }[];
  flags: string[];
}

const stepSeconds = 60;

/**
 * A tank's heat over one day, minute by minute: heating up, holding, work going through, heat of the current,
 * cover on and off, cooling down at night, and the size of heater and cooler that the day asks for. A period that
 * begins below its target must reach it by its end; make-up water replaces what evaporates.
 *
 * Periods must sum to 24 hours; temperatures to 110 °C; otherwise valid and flagged as {@link density}, {@link
 * heatCapacity} and {@link openSurfaceLoss}. Flags a target that an installed heater or cooler does not hold
 * within half a kelvin.
 * Source: C dT/dt = heater + joule - cooler - evaporation - radiation - convection - walls - loads - make-up
 * water; bath well mixed, strength constant.
 * Errors: `impossible` for periods that are not a day, `unknown` solute or material, `out-of-range` or
 * `not-finite`.
 *
 * @example
 * tankHeatBalance({
 *   bath: { solute: 'KOH', massFraction: 0.5, volumeL: 400 },
 *   surfaceAreaM2: 0.6,
 *   walls: { areaM2: 2.8, transmittanceWPerM2K: 1.14 },
 *   shell: [{ material: 'carbon steel', kg: 120 }],
 *   room: { temperatureC: 20, relativeHumidity: 0.5 },
 *   startC: 20,
 *   periods: [
 *     { hours: 3, targetC: 65, coverShare: 0.9 },
 *     { hours: 8, targetC: 65, loads: [{ material: 'carbon steel', kg: 400 }], current: { amps: 100, cellVolts: 2.6 } },
 *     { hours: 13, targetC: null, coverShare: 0.9 },
 *   ],
 * })
 * // { heaterNeededKw: 6.88274 }
 */
export function tankHeatBalance(input: TankDay): TankHeatBalance {
  const day = checkDay(input);
  const flags = new Set(day.flags);
  const joules = {
    heater: 0,
    cooler: 0,
    joule: 0,
    evaporation: 0,
    radiationAndConvection: 0,
    walls: 0,
    loads: 0,
    makeUpWater: 0,
  };
  const hourly: TankHeatBalance['hourly'] = [];
  const needed = { heaterW: 0, coolerW: 0 };
  let temperatureC = day.startC;
  let elapsed = 0;
  let waterEvaporatedKg = 0;

  for (const [number, period] of day.periods.entries()) {
    const size = sizeFor({ day, period, fromC: temperatureC });
    needed.heaterW = Math.max(needed.heaterW, size.heaterW);
    needed.coolerW = Math.max(needed.coolerW, size.coolerW);
    const heaterW = day.heaterW ?? size.heaterW;
    const coolerW = day.coolerW ?? size.coolerW;

    const steps = Math.ceil(period.seconds / stepSeconds);
    const seconds = period.seconds / steps;
    for (let step = 0; step < steps; step += 1) {
      const flows = flowsAt({ day, period, temperatureC, flags });
      const net = netW(flows);
      const wanted =
        period.targetC === null ? 0 : (day.capacityJPerK * (period.targetC - temperatureC)) / seconds - net;
      const controlW = Math.max(-coolerW, Math.min(heaterW, wanted));

      joules.heater += seconds * Math.max(0, controlW);
      joules.cooler -= seconds * Math.min(0, controlW);
      for (const key of [
        'joule',
        'evaporation',
        'radiationAndConvection',
        'walls',
        'loads',
        'makeUpWater',
      ] as const) {
        joules[key] += seconds * flows[key];
      }
      waterEvaporatedKg += seconds * flows.evaporatedKg;
      temperatureC += (seconds * (net + controlW)) / day.capacityJPerK;
      elapsed += seconds;
      if (elapsed >= 3600 * (hourly.length + 1) - 1e-6)
        hourly.push({ hour: hourly.length + 1, temperatureC });
    }
    noteTarget({ flags, number, period, temperatureC });
  }

  const kWh = (value: number): number => value / 3.6e6;
  return {
    heaterKWh: kWh(joules.heater),
    coolerKWh: kWh(joules.cooler),
    jouleKWh: kWh(joules.joule),
    evaporationKWh: kWh(joules.evaporation),
    radiationAndConvectionKWh: kWh(joules.radiationAndConvection),
    wallsKWh: kWh(joules.walls),
    loadsKWh: kWh(joules.loads),
    makeUpWaterKWh: kWh(joules.makeUpWater),
    storedKWh: kWh(day.capacityJPerK * (temperatureC - day.startC)),
    waterEvaporatedKg,
    heaterNeededKw: needed.heaterW / 1000,
    coolerNeededKw: needed.coolerW / 1000,
    endC: temperatureC,
    hourly,
    flags: [...flags],
  };
}

function noteTarget(at: {
  flags: Set<string>;
  number: number;
  period: CheckedPeriod;
  temperatureC: number;
}): void {
  const { targetC } = at.period;
  if (targetC === null) return;
  const off = at.temperatureC - targetC;
  if (Math.abs(off) <= 0.5) return;
  at.flags.add(
    `period ${at.number + 1} ends ${Math.abs(off).toFixed(1)} K ${off < 0 ? 'below' : 'above'} its target`,
  );
}
