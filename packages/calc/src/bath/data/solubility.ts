import type { Table } from '../interpolate.ts';

/**
 * Strength, as a mass fraction, at which the first solid appears, [°C, mass fraction]. KOH: 97, 107 and 112 g per
 * 100 g of water at 0, 15 and 20 °C, evidence P (two sources agree). NaOH: 50 wt% freezes at about 14 °C
 * (producer), 52.2 wt% at 20 °C, 75.8 wt% at 80 °C, evidence P.
 */
export const saturationOf: Readonly<Record<'KOH' | 'NaOH', Table>> = {
  KOH: [[0, 0.4924], [15, 0.5169], [20, 0.5283]],
  NaOH: [[14, 0.5], [20, 0.522], [80, 0.758]],
};
