import { checkName, checkNumber } from '../check.ts';
import { convert } from './convert.ts';
import {
  QUANTITIES,
  QUANTITY_NAMES,
  type Quantity,
  type QuantityInfo,
  type SystemOfUnits,
} from './quantities.ts';
import { type Unit, UNITS, type UnitInfo } from './units.ts';

const SYSTEMS = ['metric', 'us'] as const;

export interface Displayed {
  /** In the unit shown, not rounded to the decimals shown. */
  value: number;
  /** Rounded, with a full stop as decimal mark and no unit. */
  text: string;
  decimals: number;
  unit: Unit;
  /** The unit as printed. */
  symbol: string;
}

/** A small value is shown with more decimals than usual, but never with more than this. */
const MOST_DECIMALS = 6;
/** Figures kept of a value read from a form: finer than any instrument, coarser than the residue of binary arithmetic. */
const FIGURES_READ = 12;

/**
 * The unit and the usual decimals a quantity is shown in, for headings and form labels.
 *
 * Source: the table {@link QUANTITIES}. Errors: `unknown` for the quantity or the system.
 *
 * @example
 * displayUnit({ quantity: 'area', system: 'us' }) // { unit: 'ft2', symbol: 'ft²', decimals: 3 }
 */
export function displayUnit(input: {
  quantity: Quantity;
  system: SystemOfUnits;
}): Omit<Displayed, 'value' | 'text'> {
  const system = checkName('system', input.system, SYSTEMS);
  const { unit, decimals } = info(input.quantity)[system];
  return { unit, decimals, symbol: UNITS[unit].symbol };
}

/**
 * A stored value as a person wants to see it. Shows the usual decimals of the quantity; of a quantity that spans decades
 * (area, mass, consumption...) a small value gets more until three significant figures stand there, six at most.
 *
 * Valid for any finite value in the stored unit of the quantity. Source: exact unit definitions, see {@link convert}.
 * Errors: `unknown` for the quantity or the system, `not-finite`.
 *
 * @example
 * toDisplay({ quantity: 'area', value: 42_000, system: 'us' })
 * // { value: 0.452084237502, text: '0.452', decimals: 3, unit: 'ft2', symbol: 'ft²' }
 */
export function toDisplay(input: { quantity: Quantity; value: number; system: SystemOfUnits }): Displayed {
  const { unit, symbol, decimals: usual } = displayUnit(input);
  const { stored, [input.system]: shown } = info(input.quantity);
  const value = convert({ value: input.value, from: stored, to: unit });
  const wanted = value === 0 || !shown.figures ? usual : decimalsFor(value, shown.figures);
  const decimals = Math.max(usual, Math.min(wanted, MOST_DECIMALS));
  return { value, text: withoutMinusZero(value.toFixed(decimals)), decimals, unit, symbol };
}

/**
 * A value a person typed, in the stored unit. When `stored` is given and the typed value is what is shown for it, the
 * stored value comes back untouched: opening a form and saving it changes nothing, whichever units it was opened in.
 * Otherwise twelve significant figures are kept.
 *
 * Valid for any finite value. Source: exact unit definitions, see {@link convert}.
 * Errors: `unknown` for the quantity or the system, `not-finite`, `out-of-range` below absolute zero.
 *
 * @example
 * fromDisplay({ quantity: 'area', value: 0.452, system: 'us', stored: 42_000 }) // 42000
 */
export function fromDisplay(input: {
  quantity: Quantity;
  value: number;
  system: SystemOfUnits;
  stored?: number | null | undefined;
}): number {
  const { quantity, system, stored } = input;
  const { unit } = displayUnit(input);
  const value = checkNumber('value', input.value);
  if (typeof stored === 'number') {
    const shown = toDisplay({ quantity, system, value: stored });
    if (value === shown.value || value === Number(shown.text)) return stored;
  }
  const { stored: storedUnit } = info(quantity);
  const exact = convert({ value, from: unit, to: storedUnit });
  if (exact === 0 || unit === storedUnit) return exact;
  // Near the zero of a shifted scale the residue is that of the offset, not of the small difference left.
  const scale = Math.max(Math.abs(exact), Math.abs((UNITS[unit] as UnitInfo).offset ?? 0));
  const decimals = decimalsFor(scale, FIGURES_READ);
  return decimals > 0 && decimals <= 100
    ? Number(exact.toFixed(decimals))
    : Number(exact.toPrecision(FIGURES_READ));
}

const info = (quantity: Quantity): QuantityInfo =>
  QUANTITIES[checkName('quantity', quantity, QUANTITY_NAMES)];

const decimalsFor = (value: number, figures: number): number =>
  figures - 1 - Math.floor(Math.log10(Math.abs(value)));

const withoutMinusZero = (text: string): string => (Number(text) === 0 ? text.replace('-', '') : text);
