import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type Unit, UNIT_NAMES, UNITS, type UnitInfo } from './units.ts';

/**
 * A value in another unit of the same dimension. Fifteen significant figures are kept: that takes away the binary
 * residue of a multiplication (one square foot is 92903.04 mm², not 92903.04000000001) and nothing else.
 *
 * Valid for any finite value; temperatures below absolute zero are refused.
 * Source: exact definitions, NIST Special Publication 811, appendix B.
 * Errors: `unknown` for a unit not in the table, `impossible` for units of different dimensions, `not-finite`,
 * `out-of-range`.
 *
 * @example
 * convert({ value: 12, from: 'APerFt2', to: 'APerDm2' }) // 1.29166925
 */
export function convert(input: { value: number; from: Unit; to: Unit }): number {
  const fromName = checkName('from', input.from, UNIT_NAMES);
  const toName = checkName('to', input.to, UNIT_NAMES);
  const [from, to]: [UnitInfo, UnitInfo] = [UNITS[fromName], UNITS[toName]];
  if (from.dimension !== to.dimension) {
    const allowed = `a unit of ${from.dimension}, like ${fromName}`;
    throw new CalcError({ code: 'impossible', argument: 'to', given: toName, allowed });
  }
  const absoluteZero = Number((-273.15 / from.factor + (from.offset ?? 0)).toPrecision(12));
  const value = checkNumber(
    'value',
    input.value,
    from.dimension === 'temperature' ? { min: absoluteZero } : {},
  );
  if (fromName === toName) return value;
  const base = (value - (from.offset ?? 0)) * from.factor;
  return Number((base / to.factor + (to.offset ?? 0)).toPrecision(15));
}
