import { CalcError } from '../errors.ts';
import { checkFraction, checkTemperature, percent } from '../bath/inputs.ts';
import { interpolate } from '../bath/interpolate.ts';
import { checkSolute, type Solute } from '../bath/solutes.ts';
import { heatCapacityCoefficients, waterHeatCapacity } from './data/heat-capacity-model.ts';

type Modelled = keyof typeof heatCapacityCoefficients;

const isModelled = (solute: Solute): solute is Modelled => solute in heatCapacityCoefficients;

/**
 * Heat capacity of a bath liquid, per kilogram. Strong caustic holds much less than water by mass (2566 against
 * 4183 J/(kg K) for 50 wt% KOH at 60 °C), nearly as much by volume.
 *
 * Valid for massFraction 0 to 1 and temperatureC -15 to 140; flagged outside the fit: KOH to 46.5 wt%, NaOH to 30,
 * H2SO4 to 94 (to 55 °C), H3PO4 to 99 (from 25 °C), K2CO3 to 6.5, Na2CO3 to 21 and Na3PO4 to 2.8 wt% (both at 25
 * °C). Above its last wt% NaOH reads high: 3450 at 50 wt% where handbooks have 3200 to 3300. At 50 wt% KOH another
 * published correlation is 4.5 % lower.
 * Source: Laliberté 2009.
 * Errors: `unknown` for a solute without coefficients ((NH4)2SO4), `out-of-range` or `not-finite`.
 *
 * @example
 * heatCapacity({ solute: 'KOH', massFraction: 0.45, temperatureC: 60 }) // { jPerKgK: 2660.59, flags: [] }
 */
export function heatCapacity(input: { solute: Solute; massFraction: number; temperatureC: number }): {
  jPerKgK: number;
  flags: string[];
} {
  const solute = checkSolute(input.solute);
  const massFraction = checkFraction('massFraction', input.massFraction);
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  if (massFraction === 0) return { jPerKgK: waterJPerKgK(temperatureC), flags: waterFlags(temperatureC) };
  if (!isModelled(solute)) {
    throw new CalcError({
      code: 'unknown',
      argument: 'solute',
      given: solute,
      allowed: Object.keys(heatCapacityCoefficients).join(', '),
    });
  }
  const { a, minC, maxC, maxMassFraction } = heatCapacityCoefficients[solute];
  const [a1, a2, a3, a4, a5, a6] = a;
  const soluteJPerKgK =
    1000 *
    (a1 * Math.exp(a2 * temperatureC + a3 * Math.exp(0.01 * temperatureC) + a4 * massFraction) +
      a5 * massFraction ** a6);
  const flags = waterFlags(temperatureC);
  if (massFraction > maxMassFraction) {
    flags.push(`heat capacity of ${solute} extrapolated: its source ends at ${percent(maxMassFraction)}`);
  }
  if (temperatureC < minC || temperatureC > maxC) {
    flags.push(`heat capacity of ${solute} extrapolated: its source covers ${minC} to ${maxC} °C`);
  }
  return { jPerKgK: (1 - massFraction) * waterJPerKgK(temperatureC) + massFraction * soluteJPerKgK, flags };
}

const waterJPerKgK = (temperatureC: number): number => interpolate(waterHeatCapacity, temperatureC);

const waterFlags = (temperatureC: number): string[] =>
  temperatureC < -15 || temperatureC > 140
    ? ['heat capacity of water held at the end of its table, -15 to 140 °C']
    : [];
