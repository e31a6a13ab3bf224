import { checkNumber } from '../check.ts';
import { density } from '../bath/density.ts';
import { checkTemperature } from '../bath/inputs.ts';
import type { Solute } from '../bath/solutes.ts';
import { heatCapacity } from './heat-capacity.ts';
import { bodyJPerK, type SolidBody } from './solids.ts';

/**
 * Heat to bring a bath with its tank and work from one temperature to another, and the time it takes a heater.
 *
 * Volume above 0 to 1e6 L at the starting temperature; heat capacity of the liquid taken half-way. `heaterKw` and
 * the mean loss on the way give the hours; null without a heater, and null with a flag when the heater does not
 * cover the loss. Negative when cooling. Flagged as {@link density} and {@link heatCapacity}.
 * Source: Q = sum m cp dT; time = Q/(P - P_loss).
 * Errors: `unknown` solute or material, `out-of-range` or `not-finite`.
 *
 * @example
 * heatUp({
 *   solute: 'KOH',
 *   massFraction: 0.5,
 *   volumeL: 400,
 *   fromC: 20,
 *   toC: 65,
 *   bodies: [{ material: 'carbon steel', kg: 120 }],
 *   heaterKw: 6,
 * })
 * // { liquidKg: 604.92, liquidKWh: 19.3125, bodiesKWh: 0.735, kWh: 20.0475, hours: 3.34125 }
 */
export function heatUp(input: {
  solute: Solute;
  massFraction: number;
  volumeL: number;
  fromC: number;
  toC: number;
  bodies?: readonly SolidBody[];
  heaterKw?: number;
  meanLossKw?: number;
}): {
  liquidKg: number;
  liquidKWh: number;
  bodiesKWh: number;
  kWh: number;
  hours: number | null;
  flags: string[];
} {
  const { solute, massFraction } = input;
  const volumeL = checkNumber('volumeL', input.volumeL, { above: 0, max: 1e6 });
  const fromC = checkTemperature('fromC', input.fromC);
  const toC = checkTemperature('toC', input.toC);
  const heaterKw = input.heaterKw === undefined ? null : checkNumber('heaterKw', input.heaterKw, { min: 0 });
  const meanLossKw = checkNumber('meanLossKw', input.meanLossKw ?? 0, { min: 0 });

  const { kgPerM3, flags } = density({ solute, massFraction, temperatureC: fromC });
  const capacity = heatCapacity({ solute, massFraction, temperatureC: (fromC + toC) / 2 });
  const liquidKg = (volumeL * kgPerM3) / 1000;
  const kWhPerK = 1 / 3.6e6;
  const liquidKWh = liquidKg * capacity.jPerKgK * (toC - fromC) * kWhPerK;
  const bodiesJPerK = (input.bodies ?? []).reduce((sum, body) => sum + bodyJPerK('bodies', body), 0);
  const bodiesKWh = bodiesJPerK * (toC - fromC) * kWhPerK;
  const kWh = liquidKWh + bodiesKWh;
  const hot = density({ solute, massFraction, temperatureC: toC }).flags;
  const allFlags = [...new Set([...flags, ...hot, ...capacity.flags])];
  const spareKw = (heaterKw ?? 0) - meanLossKw;
  if (heaterKw !== null && spareKw <= 0)
    allFlags.push('the heater does not cover the loss: the bath never gets there');
  const hours = heaterKw === null || spareKw <= 0 ? null : Math.max(0, kWh) / spareKw;
  return { liquidKg, liquidKWh, bodiesKWh, kWh, hours, flags: allFlags };
}
