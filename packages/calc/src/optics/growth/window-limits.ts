import { checkFinite } from '../../check.ts';
import type { PassingStretch } from './voltage-window.ts';

/**
 * The limits that a recipe may state for a window: its ends, drawn in by what the law is uncertain of. Null where that leaves
 * nothing: then the law is to be known better first.
 *
 * `stretch` from `voltageWindow`. Of a law without an interval the ends stand as they are.
 * Source: arithmetic; a guard band of the whole uncertainty, as in JCGM 106:2012 section 8.3.2.
 *
 * @example
 * const [stretch] = voltageWindow({ target: { L: 42.9, a: 9.1, b: -42.1 }, toleranceDeltaE: 3, growth: nominalGrowth({ system: 'titanium' }) }).stretches;
 * windowLimits({ ...stretch, uncertaintyV: 0.2 }) // { lowV: 21.48, highV: 22.19 }
 */
export function windowLimits(
  stretch: Pick<PassingStretch, 'lowestVoltageV' | 'highestVoltageV' | 'bestVoltageV' | 'uncertaintyV'>,
): { lowV: number; highV: number } | null {
  checkFinite('stretch', stretch);
  const lowV = stretch.lowestVoltageV + (stretch.uncertaintyV ?? 0);
  const highV = stretch.highestVoltageV - (stretch.uncertaintyV ?? 0);
  return lowV < stretch.bestVoltageV && stretch.bestVoltageV < highV ? { lowV, highV } : null;
}
