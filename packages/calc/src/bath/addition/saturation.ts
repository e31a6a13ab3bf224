import { checkTemperature } from '../inputs.ts';
import { interpolate, type Table } from '../interpolate.ts';
import { saturationOf } from '../data/solubility.ts';
import { checkSolute, isCaustic, type Solute } from '../solutes.ts';

/**
 * Strength at which a caustic bath begins to crystallise at a temperature: 49.2 wt% KOH at 0 °C. Null for the
 * solutes without a curve on file (the acids mix in any proportion; salts: look it up).
 *
 * Valid for temperatureC -20 to 200. Above the last point of the curve (KOH 20, NaOH 80 °C) its last value stands,
 * on the safe side; below the first (KOH 0, NaOH 14 °C) the curve is continued; both flagged.
 * Source: solubility tables and a producer's freezing point.
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * saturation({ solute: 'KOH', temperatureC: 0 }) // { massFraction: 0.4924, flags: [] }
 */
export function saturation(input: { solute: Solute; temperatureC: number }): {
  massFraction: number | null;
  flags: string[];
} {
  const solute = checkSolute(input.solute);
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  if (!isCaustic(solute)) {
    const miscible = solute === 'H2SO4' || solute === 'H3PO4';
    return { massFraction: null, flags: miscible ? [] : [`no solubility of ${solute} on file: not checked`] };
  }
  const curve = saturationOf[solute];
  const [first, last] = [curve[0]?.[0] ?? NaN, curve.at(-1)?.[0] ?? NaN];
  const flags =
    temperatureC < first || temperatureC > last
      ? [`solubility of ${solute} extrapolated: its source covers ${first} to ${last} °C`]
      : [];
  return {
    massFraction: temperatureC < first ? continued(curve, temperatureC) : interpolate(curve, temperatureC),
    flags,
  };
}

/** Below its first point a curve goes on with the slope it starts with. */
function continued(curve: Table, temperatureC: number): number {
  const [first, second] = curve;
  if (!first || !second) throw new RangeError('a curve needs two points');
  const slope = (second[1] - first[1]) / (second[0] - first[0]);
  return first[1] + slope * (temperatureC - first[0]);
}
